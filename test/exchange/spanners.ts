/** A pair of a MusicXML score that is not one: which kind, in which part and bar, and what is wrong. */
export type Unbalanced = string;

/** Elements that begin and end something, and which of their types do (MusicXML 4.0, start-stop types). */
const KINDS: Readonly<
  Record<string, { readonly begins: readonly string[]; readonly ends: readonly string[] }>
> = {
  tie: { begins: ['start'], ends: ['stop'] },
  tied: { begins: ['start'], ends: ['stop'] },
  slur: { begins: ['start'], ends: ['stop'] },
  glissando: { begins: ['start'], ends: ['stop'] },
  tuplet: { begins: ['start'], ends: ['stop'] },
  wedge: { begins: ['crescendo', 'diminuendo'], ends: ['stop'] },
  ending: { begins: ['start'], ends: ['stop', 'discontinue'] },
  pedal: { begins: ['start'], ends: ['stop'] },
};

const attribute = (tag: string, name: string): string =>
  new RegExp(`\\b${name}="([^"]*)"`).exec(tag)?.[1] ?? '';

/** What a note is called, as its `pitch` says it. */
const pitchIn = (note: string): string =>
  ['step', 'alter', 'octave'].map(name => new RegExp(`<${name}>([^<]*)<`).exec(note)?.[1] ?? '').join(' ');

/**
 * Every spanner of a MusicXML document that begins without an end, ends without a beginning, or begins twice: told from
 * the text alone, in the order in which it stands.
 */
export const unbalanced = (xml: string): readonly Unbalanced[] => {
  const wrong: Unbalanced[] = [];
  for (const [p, part] of xml
    .split(/<part id=/)
    .slice(1)
    .entries()) {
    const open = new Map<string, string>();
    for (const [m, measure] of part
      .split(/<measure /)
      .slice(1)
      .entries()) {
      const where = `part ${String(p + 1)} bar ${String(m)}`;
      // What ends at a note ends before anything begins there.
      for (const piece of measure.split(/(?=<note\b)/)) {
        const pitch = pitchIn(piece);
        const tags = [...piece.matchAll(/<(\w+)( [^>]*)?>/g)].flatMap(found => {
          const kind = KINDS[found[1] ?? ''];
          return kind === undefined ? [] : [{ name: found[1] ?? '', tag: found[0], kind }];
        });
        for (const { name, tag, kind } of tags) {
          const type = attribute(tag, 'type');
          // Ties join a pitch to itself; everything else goes by its number.
          const key = `${name} ${name.startsWith('tie') ? pitch : attribute(tag, 'number')}`;
          if (kind.ends.includes(type)) {
            if (!open.delete(key)) wrong.push(`${where}: ${key} ends and never began`);
          } else if (kind.begins.includes(type)) {
            if (open.has(key)) wrong.push(`${where}: ${key} begins twice`);
            open.set(key, where);
          }
        }
      }
    }
    for (const [key, where] of open) wrong.push(`${where}: ${key} never ends`);
  }
  return wrong;
};
