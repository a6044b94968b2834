import { describe, expect, it } from 'vitest';
import { Scenario } from '../support/update-writes/scenario.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 16);
const first = Number(process.env['THUMBWRIGHT_SEED'] ?? 1);

describe('updates of a card', () => {
  it(
    'come to what an oracle without the merge foretells, key by key and byte by byte',
    async () => {
      const counts = new Map<string, number>();
      const wrong: string[] = [];
      for (let seed = first; seed < first + runs && wrong.length < 10; seed += 1) {
        const scenario = new Scenario(seed);
        let found = await scenario.write();
        for (let round = 0; round < 3 && found.length === 0; round += 1) {
          for (let event = 0; event <= (seed + round) % 3; event += 1) scenario.happen();
          found = await scenario.write();
        }
        wrong.push(...found.map((what) => `seed ${seed}: ${what}`));
        for (const [what, times] of scenario.counts) counts.set(what, (counts.get(what) ?? 0) + times);
      }
      const told = [...counts].sort(([a], [b]) => (a < b ? -1 : 1)).map(([what, times]) => `${what}: ${times}`);
      process.stdout.write(`seeds ${first} to ${first + runs - 1}: ${told.join(', ')}\n`);
      expect(wrong).toEqual([]);
      const classes =
        'same first-time profile-changed reset changed-by-hand both-changed moved let-go key-gone file-gone volatile';
      if (runs >= 150) expect(classes.split(' ').filter((name) => !counts.has(`class ${name}`))).toEqual([]);
    },
    60_000 + runs * 2000,
  );
});
