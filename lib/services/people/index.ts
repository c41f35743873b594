export * from "./invite";
export * from "./own-account";
export * from "./people";
