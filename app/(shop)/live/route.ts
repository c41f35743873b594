import { respondTo } from "@/lib/server";
import { watchShop } from "@/lib/services";

/** A proxy that hears nothing for a while hangs up; a comment line keeps it listening. */
const BEAT_MS = 20_000;
/** A stream ends after this, and the browser opens the next one: who is signed in is then looked up again. */
const LONGEST_MS = 5 * 60_000;

/** Rows that a page may ask to be told of alone. */
const MOST_ROWS = 8;

/** Tells the browser, as server-sent events, that something on the boards changed; what changed it reads anew. */
export function GET(request: Request): Promise<Response> {
  return respondTo((actor) => {
    const about = new URL(request.url).searchParams.getAll("about").slice(0, MOST_ROWS);
    const encoder = new TextEncoder();
    let end = (): void => undefined;
    const stream = new ReadableStream<Uint8Array>({
      start(controller) {
        const say = (line: string): void => controller.enqueue(encoder.encode(line));
        say("retry: 3000\n\n");
        const stop = watchShop(actor, (change) => say(`data: ${change.kind}\n\n`), about);
        const beat = setInterval(() => say(":\n\n"), BEAT_MS);
        const limit = setTimeout(() => end(), LONGEST_MS);
        end = () => {
          end = () => undefined;
          stop();
          clearInterval(beat);
          clearTimeout(limit);
          controller.close();
        };
        request.signal.addEventListener("abort", () => end());
      },
      cancel: () => end(),
    });
    return Promise.resolve(
      new Response(stream, {
        headers: {
          "content-type": "text/event-stream",
          "cache-control": "no-store",
          "x-accel-buffering": "no",
        },
      }),
    );
  });
}
