/** Small letters, without accents. */
export function plainWord(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').replace(/ß/g, 'ss').toLowerCase();
}

/**
 * The words of a name, small and without accents: `fastForwardMute`, `FAST_FORWARD_MUTE` and `[speed] fast-forward mute` are
 * alike. It is parted at all that is no letter or digit, and at camel humps, but for those of units.
 */
export function nameWords(name: string): readonly string[] {
  return name
    .replace(/([KMGT])iB(?!\p{Ll})/gu, ' $1ib ')
    .replace(/(\p{Ll}|\d)(\p{Lu})/gu, '$1 $2')
    .replace(/(\p{Lu})(\p{Lu}\p{Ll})/gu, '$1 $2')
    .split(/[^\p{L}\p{N}\p{M}]+/u)
    .filter((word) => word !== '')
    .map(plainWord);
}
