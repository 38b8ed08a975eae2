import type { ComponentChildren } from 'preact';
import { xOfPlace } from '../../../page/drawScore.ts';
import type { Noticed } from '../../../../core/rehearse/notice.ts';
import { useApp } from '../../../desk/appContext.ts';
import { OverSystems } from '../../parts/overSystems.tsx';
import type { PlacedSystem } from '../../parts/scorePage.tsx';
import { NoticedShape } from './noticedShape.tsx';

/** Room the row takes under a stave, in pixels, and where its marks stand in it. */
const ROW = 30;
const MIDDLE = 11;
/** What is more than written, or the rest of a line, stands a little lower: a note's own sign may stand there. */
const LOWER = 11;

const isLower = (kind: Noticed['kind']): boolean => kind === 'added' || kind === 'cut short';

/** Height the page must leave under each stave for what was noticed. */
export const noticedHeight = (isThere: boolean): number => (isThere ? ROW : 0);

/** What was noticed, under the notes of the parts that were played; the panel says the same in words. */
export const NoticedRow = (props: {
  systems: readonly PlacedSystem[];
  above: number;
  /** How many times as large as usual: for the back of a room. */
  size?: number;
}): ComponentChildren => {
  const { desk } = useApp();
  const { size = 1 } = props;
  const played = desk.rehearsed.value;
  if (played === undefined) return null;
  return (
    <OverSystems systems={props.systems}>
      {system =>
        played.parts
          .filter(part => part.strikes.length > 0)
          .flatMap(part => {
            const stave = system.staves.find(s => s.part === part.part);
            if (stave === undefined) return [];
            return part.noticed.flatMap((one, i) =>
              one.place < system.from - 1e-9 || one.place >= system.to - 1e-9
                ? []
                : [
                    <g
                      key={`${part.part} ${String(i)}`}
                      class="noticed"
                      data-kind={one.kind}
                      data-off={'off' in one ? one.off.toFixed(2) : undefined}
                    >
                      <NoticedShape
                        kind={one.kind}
                        x={xOfPlace(system, one.place)}
                        y={stave.inkBottom + props.above + size * (MIDDLE + (isLower(one.kind) ? LOWER : 0))}
                        size={size}
                      />
                    </g>,
                  ],
            );
          })
      }
    </OverSystems>
  );
};
