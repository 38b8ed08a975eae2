import { useEffect, useState } from 'preact/hooks';
import type { RegisterRow } from '../../../core/library/register.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { useApp } from '../../desk/appContext.ts';

/** The piece of a line, as it is here or once the library has read it; undefined until then. */
export const usePiece = ({ piece, entry }: RegisterRow): Piece | undefined => {
  const { keeper } = useApp();
  const [read, setRead] = useState<{ readonly revision: string; readonly piece: Piece }>();
  const wanted = piece === undefined ? entry : undefined;
  useEffect(() => {
    if (wanted === undefined) return;
    let isGone = false;
    void keeper.piece(wanted).then(found => {
      if (!isGone && found !== undefined) setRead({ revision: wanted.revision, piece: found });
    });
    return () => {
      isGone = true;
    };
  }, [wanted?.id, wanted?.revision]);
  return piece ?? (read?.revision === wanted?.revision ? read?.piece : undefined);
};
