/** The package's version; 0.0.0 where the source runs without having been bundled. */
export const version: string = typeof THUMBWRIGHT_VERSION === 'string' ? THUMBWRIGHT_VERSION : '0.0.0';
