/** Colours of paper documents, named for the materials of the shop. Text colours keep 4.5 : 1 on white and on soda. */
export const PALETTE = {
  magnetite: "#1c2126", // ink
  soda: "#f4f2ea", // panels
  ironOxide: "#9a3b1e", // the one accent
  bath: "#1d5b74", // links, times in the bath
  brass: "#7a5a0a", // cautions
  zinc: "#5d666e", // labels, small print
  hairline: "#c9c6bb",
  white: "#ffffff",
} as const;
export type Colour = (typeof PALETTE)[keyof typeof PALETTE];
