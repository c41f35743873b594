/** Stored measures as this shop reads them. Metric ones keep to whole millimetres and litres, as they always did. */
import { formatMeasure, formatMeasures, type UnitSystem } from "@/lib/units";

export type { UnitSystem };

/** @example sizeWords([250, 65, 45], "METRIC") // "250 × 65 × 45 mm" */
export const sizeWords = (mm: readonly number[], system: UnitSystem): string =>
  formatMeasures("length", mm, system, " × ", system === "US" ? {} : { decimals: 1 });

/** Of a part. @example massWords(1250, "METRIC") // "1.25 kg" */
export const massWords = (g: number, system: UnitSystem): string =>
  formatMeasure("partMass", g, system, { decimals: 3 });

/** @example volumeWords(62, "US") // "16.4 US gal" */
export const volumeWords = (volumeL: number, system: UnitSystem): string =>
  formatMeasure(
    "volume",
    volumeL,
    system,
    system === "US" ? {} : { decimals: volumeL < 10 ? 1 : 0 },
  );

/** @example lengthWords(300, "METRIC") // "300 mm" */
export const lengthWords = (mm: number, system: UnitSystem): string =>
  formatMeasure("length", mm, system, system === "US" ? {} : { decimals: 0 });

/** @example temperatureWords(20, "US") // "68 °F" */
export const temperatureWords = (celsius: number, system: UnitSystem): string =>
  formatMeasure("temperature", celsius, system, { decimals: 0 });

/** Of soda and small things. @example saltWords(300, "US") // "10.6 oz" */
export const saltWords = (g: number, system: UnitSystem): string =>
  formatMeasure("salt", g, system, system === "US" ? {} : { decimals: 0 });
