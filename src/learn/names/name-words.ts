/** The words of a name, small: `fastForwardMute`, `FAST_FORWARD_MUTE` and `[speed] fast-forward mute` are alike. */
export function nameWords(name: string): readonly string[] {
  return name
    .replace(/([\p{Ll}\d])(\p{Lu})/gu, '$1 $2')
    .replace(/(\p{Lu})(\p{Lu}\p{Ll})/gu, '$1 $2')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');
}
