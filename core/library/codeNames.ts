import { sameName } from './classList.ts';

// Our own list of friendly words: animals, plants and plain things, none of them a common name of a person.
const WORDS = `Acorn Adder Alder Anchor Anvil Arrow Aspen Auk Avocet Badger Bamboo Barley Basket
Beacon Bee Beetle Bellows Birch Bison Bittern Blenny Bobbin Bracken Bramble Brook Button Candle Cedar
Chestnut Cider Clover Cobble Comet Compass Conker Copper Cormorant Cricket Crumpet Curlew Cuttle Damson
Dipper Dormouse Dragonfly Drum Dunlin Eider Elder Elk Ember Falcon Feather Fennel Ferret Fiddle Flint Flounder
Fulmar Gannet Garnet Gecko Gherkin Glacier Gopher Gorse Grebe Gull Halibut Hare Harbour
Hedgehog Heron Hornet Ibex Iguana Jackdaw Jigsaw Kestrel Kettle Kite Kiwi Koala Ladder Lagoon
Lantern Lapwing Larch Lemur Lentil Lichen Limpet Linnet Lizard Lobster Locket Lynx Magpie Mallard 
Maple Marble Marmot Marten Meadow Mink Minnow Moose Moth Mullet Mushroom Mussel Narwhal Newt Nutmeg Oak
Ocelot Orchid Osprey Otter Oyster Paddle Panda Parsnip Pebble Pelican Penguin Pepper Pine Plover
Plum Puffin Quail Quartz Quill Rabbit Raft Raven Reed Rhubarb Rocket Rudder Saddle Saffron Salmon
Sandpiper Scallop Seal Skylark Sparrow Spindle Squirrel Starling Stoat Stork Swift Tapir
Teal Tern Thimble Thistle Thrush Toucan Trout Tulip Tundra Turtle Umber Vole Wagtail Walnut
Willow Wombat Wren Yak Yarrow Zebra`.split(/\s+/);

/** How many distinct words there are; beyond them, names are numbered. */
export const WORD_COUNT = WORDS.length;

/** A number from 0 to 2^32 - 1 after another: a linear congruential generator (figures from memory: Numerical Recipes). */
const after = (state: number): number => (Math.imul(state, 1664525) + 1013904223) >>> 0;

/**
 * Friendly code names, distinct from each other and from those already taken; the same seed gives the same.
 * @param count how many; whole, 0 or more
 * @param seed any whole number; the caller's chance, since core has none
 * @param taken names not to be given again
 * @example
 * makeCodeNames(2, 1, []).length // => 2
 */
export const makeCodeNames = (count: number, seed: number, taken: readonly string[]): readonly string[] => {
  const known = new Set(taken.map(sameName));
  const free = WORDS.filter(word => !known.has(sameName(word)));
  let state = seed >>> 0;
  // Shuffled from the end (Fisher and Yates): every order is as likely.
  for (let i = free.length - 1; i > 0; i--) {
    state = after(state);
    const j = Math.floor((state / 2 ** 32) * (i + 1));
    [free[i], free[j]] = [free[j] ?? '', free[i] ?? ''];
  }
  const names = free.slice(0, Math.max(0, count));
  for (let round = 2; names.length < count; round++) {
    for (const word of WORDS) {
      const numbered = `${word} ${String(round)}`;
      if (names.length < count && !known.has(sameName(numbered))) names.push(numbered);
    }
  }
  return names;
};
