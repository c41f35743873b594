import { type PartProgress, PROGRESS_STEPS } from "@/lib/services";

/** How far each part is: in words, and as steps filled in. */
export function Progress({ parts }: { readonly parts: readonly PartProgress[] }) {
  return (
    <ul className="space-y-3">
      {parts.map((part) => (
        <li key={part.mark} className="plate p-4">
          <p>
            <span className="font-semibold">
              {part.mark}, {part.description}:
            </span>{" "}
            {part.words}.
          </p>
          <Steps done={part.step} />
        </li>
      ))}
    </ul>
  );
}

const WIDTH = 40;
const GAP = 6;

function Steps({ done }: { readonly done: number }) {
  const steps = Array.from({ length: PROGRESS_STEPS }, (_, index) => index);
  return (
    <svg
      viewBox={`0 0 ${PROGRESS_STEPS * (WIDTH + GAP)} 12`}
      preserveAspectRatio="xMinYMid"
      className="mt-2 h-3 w-full max-w-xs"
      role="img"
      aria-label={`${done} of ${PROGRESS_STEPS} steps done`}
    >
      {steps.map((step) => (
        <rect
          key={step}
          x={step * (WIDTH + GAP) + 1}
          y={1}
          width={WIDTH}
          height={10}
          rx={2}
          className={step < done ? "fill-bath stroke-bath" : "fill-sheet stroke-rim"}
          strokeWidth={1.5}
        />
      ))}
    </svg>
  );
}
