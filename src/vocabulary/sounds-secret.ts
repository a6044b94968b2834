/** Words for what nobody may read over a shoulder, in the languages that learn knows; parts of a key's last name. */
const anywhere = /pass[-_ ]?(word|wd|phrase|code|key)|passwort|kennwort|senha|contrasena/i;
/** Short ones count only as a word of their own, however the key joins its words. */
const alone: ReadonlySet<string> = new Set(
  'pass pwd pw psk pin token secret secrets credential credentials apikey'.split(' '),
);

function wordsOf(key: string): readonly string[] {
  return key
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z]+/);
}

/** Whether a key that no dialect names sounds like one that holds a password: its text is never shown. In doubt, it does. */
export function soundsSecret(key: string): boolean {
  const words = wordsOf(key);
  const pairs = words.map((word, at) => word + (words[at + 1] ?? ''));
  return anywhere.test(key) || words.some((word) => alone.has(word)) || pairs.includes('apikey');
}
