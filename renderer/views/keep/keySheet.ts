import type { ClassList } from '../../../core/library/classList.ts';

const PAGE = '@page { size: A4; margin: 16mm }';

const element = (name: string, className: string, text = ''): HTMLElement => {
  const made = document.createElement(name);
  made.className = className;
  made.textContent = text;
  return made;
};

/** Lays out the key of a class: each code name with an empty line beside it. */
export const layOutKeySheet = (list: ClassList, area: Element): void => {
  const style = element('style', '', PAGE);
  const sheet = element('section', 'key-sheet');
  sheet.append(
    element('h1', '', `Key to the code names of ${list.name}`),
    element('p', '', 'Fill in by hand. Keep it apart from the computer: nobody else needs it.'),
  );
  const rows = element('ol', 'key-rows');
  for (const codeName of list.pupils) {
    const row = element('li', 'key-row');
    row.append(element('b', '', codeName), element('span', 'key-line'));
    rows.append(row);
  }
  sheet.append(rows);
  area.replaceChildren(style, sheet);
};

/** Prints the key sheet through the system's own dialogue, which makes a PDF too. */
export const printKeySheet = (list: ClassList): void => {
  const area = document.getElementById('print');
  if (area === null) return;
  layOutKeySheet(list, area);
  window.print();
};
