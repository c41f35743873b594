/** Every use case of the shop, by area. Areas are added here, one line each. */
export * from "./upkeep";
export * from "./people";
export * from "./shop";
export * from "./costs";
export * from "./figures";
export * from "./learning";
export * from "./quotes";
export * from "./mail";
export * from "./stock";
export * from "./board";
export * from "./runs";
export * from "./tanks";
export * from "./intake";
export * from "./fields";
export * from "./feeds";
export * from "./schedule";
