/** Published tables, in inches, pounds and psi, as the second computation uses them. */

/** Sheet thickness by gauge, in: Manufacturers' Standard Gauge and the galvanized, stainless and aluminum columns of
 * Machinery's Handbook 31 part A table 20 (seen; galvanized 7, 9, 13, 15, 17, 19, 22 to 26 and steel 24 to 26 from memory). */
export const SHEETS: Readonly<Record<string, Readonly<Record<number, number>>>> = {
  steel: { 7: 0.1793, 8: 0.1644, 9: 0.1495, 10: 0.1345, 11: 0.1196, 12: 0.1046, 13: 0.0897, 14: 0.0747, 15: 0.0673, 16: 0.0598, 17: 0.0538, 18: 0.0478, 19: 0.0418, 20: 0.0359, 21: 0.0329, 22: 0.0299, 23: 0.0269, 24: 0.0239, 25: 0.0209, 26: 0.0179 },
  galvanized: { 8: 0.1681, 9: 0.1532, 10: 0.1382, 11: 0.1233, 12: 0.1084, 13: 0.0934, 14: 0.0785, 15: 0.071, 16: 0.0635, 17: 0.0575, 18: 0.0516, 19: 0.0456, 20: 0.0396, 21: 0.0366, 22: 0.0336, 23: 0.0306, 24: 0.0276, 25: 0.0247, 26: 0.0217 },
  stainless: { 8: 0.1719, 9: 0.1562, 10: 0.1406, 11: 0.125, 12: 0.1094, 13: 0.0937, 14: 0.0781, 15: 0.0703, 16: 0.0625, 17: 0.0562, 18: 0.05, 19: 0.0437, 20: 0.0375, 21: 0.0344, 22: 0.0312, 23: 0.0281 },
  aluminum: { 8: 0.1285, 9: 0.1144, 10: 0.1019, 11: 0.0907, 12: 0.0808, 13: 0.072, 14: 0.0641, 15: 0.0571, 16: 0.0508, 17: 0.0453, 18: 0.0403, 19: 0.0359, 20: 0.032, 21: 0.0285, 22: 0.0253 },
}

/** ASME B36.10M (dimensions as published): outside diameter and wall, in. STD and XS from memory above NPS 10. */
export const PIPES: Readonly<Record<string, readonly [od: number, wall: number]>> = {
  nps2_sch10: [2.375, 0.109],
  nps2_5_sch10: [2.875, 0.12],
  nps3_sch10: [3.5, 0.12],
  nps3_5_sch10: [4.0, 0.12],
  nps4_sch10: [4.5, 0.12],
  nps5_sch10: [5.563, 0.134],
  nps6_sch10: [6.625, 0.134],
  nps8_sch10: [8.625, 0.148],
  nps10_sch10: [10.75, 0.165],
  nps12_sch10: [12.75, 0.18],
  nps14_sch10: [14.0, 0.25],
  nps16_sch10: [16.0, 0.25],
  nps2_std: [2.375, 0.154],
  nps2_5_std: [2.875, 0.203],
  nps3_std: [3.5, 0.216],
  nps3_5_std: [4.0, 0.226],
  nps4_std: [4.5, 0.237],
  nps5_std: [5.563, 0.258],
  nps6_std: [6.625, 0.28],
  nps8_std: [8.625, 0.322],
  nps10_std: [10.75, 0.365],
  nps12_std: [12.75, 0.375],
  nps14_std: [14.0, 0.375],
  nps16_std: [16.0, 0.375],
  nps2_sch40: [2.375, 0.154],
  nps2_5_sch40: [2.875, 0.203],
  nps3_sch40: [3.5, 0.216],
  nps3_5_sch40: [4.0, 0.226],
  nps4_sch40: [4.5, 0.237],
  nps5_sch40: [5.563, 0.258],
  nps6_sch40: [6.625, 0.28],
  nps8_sch40: [8.625, 0.322],
  nps10_sch40: [10.75, 0.365],
  nps12_sch40: [12.75, 0.406],
  nps14_sch40: [14.0, 0.438],
  nps16_sch40: [16.0, 0.5],
  nps2_sch80: [2.375, 0.218],
  nps2_5_sch80: [2.875, 0.276],
  nps3_sch80: [3.5, 0.3],
  nps3_5_sch80: [4.0, 0.318],
  nps4_sch80: [4.5, 0.337],
  nps5_sch80: [5.563, 0.375],
  nps6_sch80: [6.625, 0.432],
  nps8_sch80: [8.625, 0.5],
  nps10_sch80: [10.75, 0.594],
  nps12_sch80: [12.75, 0.688],
  nps14_sch80: [14.0, 0.75],
  nps16_sch80: [16.0, 0.844],
  nps4_xs: [4.5, 0.337],
  nps6_xs: [6.625, 0.432],
  nps8_xs: [8.625, 0.5],
  nps10_xs: [10.75, 0.5],
  nps12_xs: [12.75, 0.5],
  nps16_xs: [16, 0.5],
}

const perCubicInch = (kilogramsPerCubicMetre: number): number => (kilogramsPerCubicMetre / 0.45359237) * 0.0254 ** 3

/** lb/in3, from the usual metric figures. */
export const DENSITY = {
  steel: perCubicInch(7850),
  galvanized: perCubicInch(7850),
  stainless: perCubicInch(8000),
  aluminum: perCubicInch(2700),
}

/** psi. */
export const SLAT_MODULUS = { steel: 29e6, galvanized: 29e6, stainless: 28e6, aluminum: 10e6 }

/**
 * Tensile strength A/d^m (kpsi, in) and its range of diameters: Shigley table 10-4 (A228 seen, the others as quoted);
 * yield over tensile: eq. 10-57; E in psi; f: range strength over tensile at 1e3 (Jiang table 14.3, seen), 1e5 and 1e6
 * cycles (Shigley table 10-10, as quoted).
 */
export const WIRES = {
  music_wire: { A: 201, m: 0.145, from: 0.004, to: 0.256, yield: 0.78, E: 28.5e6, f: [0.78, 0.53, 0.5] },
  oil_tempered: { A: 147, m: 0.187, from: 0.02, to: 0.5, yield: 0.87, E: 28.5e6, f: [0.8, 0.53, 0.5] },
  hard_drawn: { A: 140, m: 0.19, from: 0.028, to: 0.5, yield: 0.78, E: 28.5e6, f: [0.78, 0.53, 0.5] },
  chrome_vanadium: { A: 169, m: 0.168, from: 0.032, to: 0.437, yield: 0.87, E: 29.5e6, f: [0.78, 0.55, 0.53] },
  chrome_silicon: { A: 202, m: 0.108, from: 0.063, to: 0.375, yield: 0.87, E: 29.5e6, f: [0.78, 0.55, 0.53] },
} as const
