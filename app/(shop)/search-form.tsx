import { Button } from "@/app/ui";

type SearchFormProps = {
  readonly action: string;
  readonly label: string;
  readonly value: string;
  /** Other parts of the address to keep. */
  readonly keep?: Readonly<Record<string, string>>;
  /** The first thing to type on its screen. */
  readonly focused?: boolean;
};

/** Searches a list through its address, so that a result can be bookmarked. */
export function SearchForm({ action, label, value, keep = {}, focused }: SearchFormProps) {
  return (
    <form action={action} role="search" className="flex max-w-xl items-end gap-2">
      {Object.entries(keep).map(([name, kept]) => (
        <input key={name} type="hidden" name={name} value={kept} />
      ))}
      <label className="min-w-0 flex-1">
        <span className="mb-1 block font-medium">{label}</span>
        <input
          type="search"
          name="q"
          defaultValue={value}
          autoFocus={focused}
          className="min-h-11 w-full rounded-[var(--radius-plate)] border border-rim bg-sheet px-3"
        />
      </label>
      <Button kind="plain">Search</Button>
    </form>
  );
}
