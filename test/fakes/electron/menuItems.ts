/** As much of a menu's item as is used. */
export interface MenuItem {
  readonly label?: string;
  readonly enabled?: boolean;
  readonly click?: () => void;
  readonly submenu?: readonly MenuItem[];
}

/** Items, and those of the menus in them. */
export const itemsIn = (items: readonly MenuItem[]): readonly MenuItem[] =>
  items.flatMap(item => [item, ...itemsIn(item.submenu ?? [])]);
