import { nodeFolder } from '../../electron/desktop/nodeFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { barePiece, countingTools } from '../library/pieces.ts';

// One desktop host that saves as fast as it can, until it is killed. Each save that was acknowledged is
// told in a line; what is not told may be lost.
const [root = '', name = ''] = process.argv.slice(2);
const library = openLibrary(nodeFolder(root), countingTools(0, `${name}-`));
for (let i = 0; ; i++) {
  const id = `piece-${String(i % 7)}`;
  const title = `${name} ${String(i)}`;
  const known = await library.shelf();
  const entry = known.ok ? known.value.entries.find(one => one.id === id) : undefined;
  const saved = await library.save(barePiece(id, title), entry === undefined ? [] : [entry.revision]);
  if (saved.ok) process.stdout.write(`${id} ${saved.value.revision} ${title}\n`);
}
