/** Made by test/tools/pages.mjs from pages/*.md: code to the page's text. */
declare module 'virtual:pages' {
  export const pages: Readonly<Record<string, string>>;
}
