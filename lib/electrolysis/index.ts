/**
 * Electrolysis of iron in soda: salts, conductivity, gas, heat, leads, and the current a tank draws.
 *
 * Pure: no clock, randomness, environment or framework; imports only `@/lib/units`.
 * A number passed by position carries its unit in its type; a number in an object carries it in its name.
 * Arguments outside their range throw RangeError naming the value, the range and the unit.
 */
export * from "./anode-life";
export * from "./bath";
export * from "./care";
export * from "./conductivity";
export * from "./density";
export * from "./faraday";
export * from "./forecast";
export * from "./interpolation";
export * from "./kinetics";
export * from "./leads";
export * from "./operating-point";
export * from "./salts";
export * from "./shape";
export * from "./solubility";
export * from "./strongest-dose";
export * from "./supply";
export * from "./used-bath";
export * from "./ventilation";
export * from "./water";
export * from "./warming";
export * from "./worked";
export * from "./worked-gas";
