/** The reserved words, each in a sentence and an example. */
export const KEYWORDS: Readonly<Record<string, string>> = {
  use: 'Brings in the stock, limits and openings of another file, by a path relative to this one: `use "stock/house.door"`',
  like: 'Copies from another opening or from a stock item; what is written here wins, field by field: `opening "Dock 4" like "Dock 3" { }`',
  let: 'Names a value for the block it stands in, or for the file: `let gap = 1/2in`',
  require:
    'A rule of your own: where it is false that is an error, with both sides and the reason: `require headroom >= drum.coil_diameter + 3in because "sprinkler main"`',
  allow:
    'Accepts the finding of one rule in the block it stands in, with a reason: `allow rail_depth because "rails on site already"`',
  because:
    'Gives the reason of a field, a `require` or an `allow`. A looser limit needs one: `drum_sag = 0.04 in/ft because "light traffic"`',
  and: 'True where both sides are.',
  or: 'True where one of the sides is.',
  not: 'True where what follows is false.',
  true: 'Yes.',
  false: 'No.',
}
