export function isHotkey({ setting }: { readonly setting: string }): boolean {
  return setting.startsWith('hotkeys.bind.');
}

/** Whether what is written of a hotkey is several wishes, best first. */
export function isWishList(written: unknown): boolean {
  if (typeof written !== 'object' || written === null) return false;
  return Array.isArray(written) || (!('chord' in written) && Object.values(written).some(Array.isArray));
}
