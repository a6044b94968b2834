import { describe, expect, it } from 'vitest';
import { hostPath } from '../../../src/model/paths.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { adoptionText } from '../../../src/report/adoption-text.ts';
import { adoptCard, keep, writeCard } from '../../support/adopt/adopt-world.ts';
import { demoFiles } from '../../support/demo.ts';

const folder = '/card/settings/wifi';

describe('Wi-Fi networks on a card', () => {
  it('are adopted with their passwords, which go to the private file alone', () => {
    const files = demoFiles();
    writeCard(files, 'fen', true);
    const own = hostPath(`${folder}/Reading Room.nmconnection`);
    const read = files.read(own);
    const text = read.kind === 'bytes' ? decodeBytes(read.bytes) : '';
    const asWritten = text.replace(/^psk=.*$/m, 'psk=zz-quay \\\\ seven');
    files.write(own, encodeText(asWritten));
    files.write(hostPath(`${folder}/strange.nmconnection`), encodeText('[connection]\nid=strange\nextra=1\n'));
    const adopted = adoptCard(files, 'fen', { all: true, only: new Set(['network.networks']) });
    expect(adopted.told.secrets).toEqual([{ name: 'reading-room', text: 'zz-quay \\ seven' }]);
    expect(adopted.told.unread.map(({ path }) => path)).toEqual(['settings:wifi/strange.nmconnection']);
    expect(adoptionText(adopted.told)).not.toContain('zz-quay');
    const known = { secretText: (name: string) => (name === 'reading-room' ? 'another one' : undefined) };
    const other = adoptCard(files, 'fen', known);
    expect(other.told.left.map(({ why }) => why)).toEqual([
      'the card holds another password of the network Reading Room than secret:reading-room',
    ]);
    keep(files, adopted);
  });
});
