import { fileResponse, respondTo, shopSettings } from "@/lib/server";
import { stockValuationCsv } from "@/lib/services";
import { askedDay } from "../day";

/** A valuation for a spreadsheet: a row an item, or with `of=layers` a row a layer. */
export function GET(request: Request): Promise<Response> {
  return respondTo(async (actor) => {
    const { searchParams } = new URL(request.url);
    const now = new Date();
    const day = askedDay(searchParams.get("on"), (await shopSettings()).timeZone, now);
    const of = searchParams.get("of") === "layers" ? "layers" : "items";
    const { bytes, name } = await stockValuationCsv(actor, { day, of }, now);
    return fileResponse(bytes, "text/csv; charset=utf-8", name);
  });
}
