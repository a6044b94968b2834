/** A list as a record names it: `games.favourites`, or `games.lists NAME`. */
export function listName(setting: string, item: string | undefined): string {
  return item === undefined ? setting : `${setting} ${item}`;
}
