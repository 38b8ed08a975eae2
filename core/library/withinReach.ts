import { type Fraction, toNumber } from '../foundation/fraction.ts';
import { barLength } from '../foundation/metre.ts';
import { motifOf, type Piece } from '../piece/piece.ts';
import { accompanimentPassage } from '../plan/accompaniment.ts';
import { passageOf, type Statement, statementStart } from '../plan/statement.ts';
import { type Motif, type MotifNote, upbeatOf } from '../motif/motif.ts';
import { FINEST_GRID, LONGEST_UPBEAT, MOST_STORED_BARS, MOST_SEMIBREVES, MOST_SOUNDING } from './limits.ts';

/** By how much a chain of treatments stretches what it treats, as a plain number: it may be beyond any fraction. */
const stretchOf = (statement: Statement): number =>
  statement.chain.reduce(
    (so, one) =>
      one.kind === 'augment'
        ? so * toNumber(one.factor)
        : one.kind === 'diminish'
          ? so / toNumber(one.factor)
          : so,
    1,
  );

/**
 * Why a piece whose fields are each in range is still none that can be opened: more bars or notes than a
 * view could draw, or a statement in a part that is not there; undefined for every honest piece.
 * @param piece as decoded; only its shape is relied on
 */
export const beyondReach = (piece: Piece): string | undefined => {
  const { reading, plan } = piece;
  const metres = [reading.metre, ...(plan?.metres ?? []).map(m => m.metre)];
  const bar = Math.min(...metres.map(m => toNumber(barLength(m))));
  const reaches = (onset: number): boolean => onset / bar > MOST_STORED_BARS || onset > MOST_SEMIBREVES;
  for (const note of reading.notes) {
    if (note.duration.n <= 0) return 'a note without length';
    if (reaches(toNumber(note.onset) + toNumber(note.duration)) || reaches(-toNumber(note.onset)))
      return 'a note beyond the last bar';
  }
  if (reading.upbeat.n < 0 || reaches(toNumber(reading.upbeat))) return 'an upbeat of no bar';
  if (plan === undefined) return undefined;
  const parts = new Set(plan.parts.map(part => part.id));
  const motif = motifOf(piece);
  let sounding = 0;
  for (const statement of plan.statements) {
    if (!parts.has(statement.part)) return `a statement in the part ${statement.part}, which is not there`;
    const stated =
      statement.accompaniment !== undefined
        ? accompanimentPassage(motif.key, motif.metre, statement.accompaniment)
        : ((statement.motif === undefined ? undefined : motif.others?.[statement.motif]) ?? motif);
    const stretch = stretchOf(statement);
    if (stretch > 64 || stretch < 1 / 64) return 'a statement stretched beyond reading';
    if (reaches(toNumber(statement.onset) + toNumber(stated.length) * stretch * statement.times))
      return 'a statement beyond the last bar';
    if (reaches(-toNumber(statement.onset))) return 'a statement before the first bar';
    // An ornament makes three notes of one.
    const added = statement.chain.reduce(
      (so, t) => so + (t.kind === 'ornament' ? 2 * t.ornaments.length : 0),
      0,
    );
    sounding += ((statement.detached ?? stated.notes).length + added) * statement.times;
    for (const note of statement.detached ?? [])
      if (note.duration.n <= 0 || reaches(toNumber(note.onset) + toNumber(note.duration)))
        return 'a note beyond the last bar';
  }
  if (sounding > MOST_SOUNDING) return 'more notes than can be written out';
  return plan.statements.map(s => offThePage(motif, s)).find(reason => reason !== undefined);
};

/** Why the places of a statement, worked out, are those of no page; throws where they are beyond exact fractions. */
const offThePage = (motif: Motif, statement: Statement): string | undefined => {
  const passage = passageOf(motif, statement);
  const isOn = ({ d }: Fraction): boolean => FINEST_GRID % d === 0;
  const isThere = (n: MotifNote): boolean => isOn(n.onset) && isOn(n.duration);
  if (!isOn(passage.length) || !isOn(upbeatOf(passage)) || !passage.notes.every(isThere))
    return 'notes between all places of a page';
  const upbeat = -toNumber(statementStart(motif, statement));
  return upbeat > LONGEST_UPBEAT * toNumber(barLength(motif.metre))
    ? 'a statement before the first bar'
    : undefined;
};

/** How deep lists and fields lie in each other in a JSON text, without parsing it. @example depthOf('[{"a":[]}]') // => 3 */
export const depthOf = (json: string): number => {
  let depth = 0;
  let deepest = 0;
  let quoted = false;
  for (let i = 0; i < json.length; i++) {
    const c = json[i];
    if (quoted) {
      if (c === '\\') i++;
      else if (c === '"') quoted = false;
    } else if (c === '"') quoted = true;
    else if (c === '[' || c === '{') deepest = Math.max(deepest, ++depth);
    else if (c === ']' || c === '}') depth--;
  }
  return deepest;
};
