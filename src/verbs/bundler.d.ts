/** Set by the bundler from package.json. */
declare const THUMBWRIGHT_VERSION: string | undefined;
