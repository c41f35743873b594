"use client";

import clsx from "clsx";
import Link from "next/link";
import { usePathname } from "next/navigation";

export type NavigationItem = { readonly href: string; readonly label: string };

type NavigationProps = {
  readonly shopName: string;
  readonly personName: string;
  readonly items: readonly NavigationItem[];
};

/** How many ways stand in the bottom bar of a phone; the rest open under “More”. */
const IN_THE_BAR = 4;

/** A band along the top with the level line under it; on a phone a bar under the thumb. */
export function Navigation({ shopName, personName, items }: NavigationProps) {
  const path = usePathname();
  const here = (href: string): boolean =>
    href === "/" ? path === "/" : path === href || path.startsWith(`${href}/`);
  return (
    <>
      <header className="bg-magnetite text-soda dark:bg-sheet dark:text-magnetite">
        <div className="mx-auto flex max-w-6xl flex-wrap items-center gap-x-5 px-4 sm:px-6">
          <Link href="/" className="py-3 text-lg font-bold">
            {shopName}
          </Link>
          <nav aria-label="Main" className="hidden flex-1 sm:block">
            <ul className="flex flex-wrap">
              {items.map(({ href, label }) => (
                <li key={href}>
                  <Link
                    href={href}
                    aria-current={here(href) ? "page" : undefined}
                    className={clsx(
                      "block border-b-4 px-2 pt-4 pb-3 font-medium xl:px-2.5",
                      here(href) ? "border-liquid" : "border-transparent hover:border-rim",
                    )}
                  >
                    {label}
                  </Link>
                </li>
              ))}
            </ul>
          </nav>
          <Link href="/account" className="ml-auto py-3 underline underline-offset-4">
            {personName}
          </Link>
        </div>
        <LevelLine />
      </header>
      <ThumbBar items={items} here={here} />
    </>
  );
}

/** The surface of a bath: a drawn line, nothing more. */
function LevelLine() {
  return (
    <svg
      className="block h-2 w-full"
      preserveAspectRatio="none"
      viewBox="0 0 400 8"
      aria-hidden="true"
    >
      <path
        className="fill-liquid"
        d="M0 4 C 40 0 60 0 100 4 S 160 8 200 4 S 260 0 300 4 S 360 8 400 4 V 8 H 0 Z"
      />
    </svg>
  );
}

type ThumbBarProps = {
  readonly items: readonly NavigationItem[];
  readonly here: (href: string) => boolean;
};

function ThumbBar({ items, here }: ThumbBarProps) {
  const path = usePathname();
  const link = ({ href, label }: NavigationItem, className: string) => (
    <Link
      key={href}
      href={href}
      aria-current={here(href) ? "page" : undefined}
      className={clsx(className, here(href) && "font-bold text-bath")}
    >
      {label}
    </Link>
  );
  return (
    <nav
      aria-label="Main"
      className="fixed inset-x-0 bottom-0 z-40 border-t-2 border-line bg-sheet sm:hidden"
    >
      <div className="grid grid-cols-5">
        {items
          .slice(0, IN_THE_BAR)
          .map((item) => link(item, "flex min-h-14 items-center justify-center"))}
        {/* A new address closes the list. */}
        <details key={path} className="group">
          <summary className="flex min-h-14 list-none items-center justify-center [&::-webkit-details-marker]:hidden">
            More
          </summary>
          <div className="absolute right-0 bottom-full min-w-48 border-2 border-line bg-sheet">
            {items
              .slice(IN_THE_BAR)
              .map((item) => link(item, "border-line flex min-h-12 items-center border-b px-5"))}
          </div>
        </details>
      </div>
    </nav>
  );
}
