/** The invented takes that ship with the app, as standard MIDI files in assets/demo. */
export const DEMO_TAKES: readonly {
  readonly file: string;
  readonly title: string;
  readonly about: string;
  readonly click: boolean;
}[] = [
  {
    file: 'ferry-bell.mid',
    title: 'Ferry bell',
    about: 'syncopated, with semiquavers, to a click',
    click: true,
  },
  {
    file: 'late-for-lunch.mid',
    title: 'Late for lunch',
    about: 'straight quavers and crotchets, to a click',
    click: true,
  },
  { file: 'tin-roof.mid', title: 'Tin roof', about: 'swung, to a click', click: true },
  { file: 'puddle-jump.mid', title: 'Puddle jump', about: 'played without a click', click: false },
];
