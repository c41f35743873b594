import clsx from "clsx";
import Link from "next/link";
import type { ButtonHTMLAttributes, ReactNode } from "react";

export type ButtonKind = "main" | "plain" | "danger";
export type ButtonSize = "usual" | "bench";

/** Classes of a button; bench buttons are for wet gloves. */
export function buttonClass(kind: ButtonKind = "main", size: ButtonSize = "usual"): string {
  return clsx(
    "inline-flex items-center justify-center gap-2 rounded-[var(--radius-plate)] border font-semibold",
    "disabled:cursor-not-allowed disabled:opacity-60",
    size === "bench" ? "min-h-14 px-6 text-lg" : "min-h-11 px-4",
    kind === "main" && "border-magnetite bg-magnetite text-sheet hover:opacity-90",
    kind === "plain" && "border-rim bg-sheet text-magnetite hover:bg-zinc-wash",
    kind === "danger" && "border-oxide bg-sheet text-oxide hover:bg-oxide-wash",
  );
}

type ButtonProps = ButtonHTMLAttributes<HTMLButtonElement> & {
  readonly kind?: ButtonKind;
  readonly size?: ButtonSize;
};

export function Button({ kind = "main", size = "usual", className, type, ...rest }: ButtonProps) {
  return (
    <button
      type={type ?? "submit"}
      className={clsx(buttonClass(kind, size), className)}
      {...rest}
    />
  );
}

type LinkButtonProps = {
  readonly href: string;
  readonly kind?: ButtonKind;
  readonly size?: ButtonSize;
  readonly download?: boolean;
  readonly children: ReactNode;
};

/** A link that looks like a button. A download leaves the app's router alone. */
export function LinkButton({
  href,
  kind = "plain",
  size = "usual",
  download,
  children,
}: LinkButtonProps) {
  if (download) {
    return (
      <a href={href} className={buttonClass(kind, size)}>
        {children}
      </a>
    );
  }
  return (
    <Link href={href} className={buttonClass(kind, size)}>
      {children}
    </Link>
  );
}
