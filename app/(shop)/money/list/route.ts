import { fileResponse, respondTo } from "@/lib/server";
import { openBalancesFile } from "@/lib/services";

/** Who owes what, for a spreadsheet. */
export function GET(): Promise<Response> {
  return respondTo(async (actor) => {
    const { bytes, name } = await openBalancesFile(actor, new Date());
    return fileResponse(bytes, "text/csv; charset=utf-8", name);
  });
}
