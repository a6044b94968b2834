declare module '*.hbs' {
  /** A page template, compiled when the command was bundled. */
  const render: (page: object) => string;
  export default render;
}
