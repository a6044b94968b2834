/** A shell script, loaded as its text by the bundler and by the test runner (test/tools/shell-text.mjs). */
declare module '*.sh' {
  const text: string;
  export default text;
}
