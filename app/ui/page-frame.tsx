import type { ReactNode } from "react";

type PageProps = {
  readonly title: ReactNode;
  /** Small line above the title: where this belongs. */
  readonly kicker?: ReactNode;
  readonly actions?: ReactNode;
  readonly narrow?: boolean;
  /** As wide as the window: for what is read across a room. */
  readonly wide?: boolean;
  readonly children: ReactNode;
};

/** One screen: its title, what can be done on it, and its sections. */
export function Page({ title, kicker, actions, narrow, wide, children }: PageProps) {
  return (
    <main
      id="main"
      tabIndex={-1}
      className={`mx-auto w-full px-4 pt-6 pb-28 outline-none sm:px-6 sm:pb-16 ${wide ? "max-w-none" : narrow ? "max-w-2xl" : "max-w-6xl"}`}
    >
      <header
        className={`${wide ? "mb-3" : "mb-6"} flex flex-wrap items-end justify-between gap-x-6 gap-y-3`}
      >
        <div>
          {kicker ? <p className="mb-1 text-sm text-zinc">{kicker}</p> : null}
          <h1 className="text-3xl leading-tight font-bold tracking-tight sm:text-4xl">{title}</h1>
        </div>
        {actions ? <div className="flex flex-wrap gap-2">{actions}</div> : null}
      </header>
      <div className="space-y-8">{children}</div>
    </main>
  );
}

type SectionProps = {
  readonly title: ReactNode;
  readonly id?: string;
  readonly actions?: ReactNode;
  /** Lays the content on a plate. */
  readonly plate?: boolean;
  readonly children: ReactNode;
};

/** A titled part of a screen. */
export function Section({ title, id, actions, plate, children }: SectionProps) {
  return (
    <section id={id} aria-labelledby={id ? `${id}-title` : undefined}>
      <div className="mb-3 flex flex-wrap items-baseline justify-between gap-2 border-b-2 border-magnetite pb-1">
        <h2 id={id ? `${id}-title` : undefined} className="text-xl font-semibold">
          {title}
        </h2>
        {actions ? <div className="flex flex-wrap gap-2 text-sm">{actions}</div> : null}
      </div>
      {plate ? <div className="plate p-4 sm:p-5">{children}</div> : children}
    </section>
  );
}
