// Lays out the card of the demo's Fen, or does to it what an update does. Usage: npm run demo:card -- FOLDER
import { existsSync, mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { makeCard, updateCard } from '../support/demo-card.ts';

function main(folder: string | undefined, update: boolean): number {
  if (folder === undefined) {
    process.stderr.write('Name a folder: npm run demo:card -- /tmp/fen-card\n');
    return 2;
  }
  if (update) {
    if (!existsSync(join(folder, 'settings', 'sedge.ini'))) {
      process.stderr.write(`${folder} is no card of the demo. Make it first: npm run demo:card -- ${folder}\n`);
      return 2;
    }
    updateCard(folder);
    process.stdout.write(`Sedge on ${folder} is 3.3.0 now.\n`);
    return 0;
  }
  if (existsSync(folder) && readdirSync(folder).length > 0) {
    process.stderr.write(`${folder} holds something already. Name a new folder.\n`);
    return 2;
  }
  mkdirSync(folder, { recursive: true });
  makeCard(folder);
  process.stdout.write(`${folder} is as Fen's card is, fresh from its image.\n`);
  return 0;
}

const [verb, folder] = process.argv.slice(2);
if (verb === 'make' || verb === 'update') process.exitCode = main(folder, verb === 'update');
