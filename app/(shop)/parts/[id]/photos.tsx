import Image from "next/image";
import type { partById } from "@/lib/services";
import { Confirm, Empty, Form, Section, SelectField, Submit, TextField } from "@/app/ui";
import { addPhotoAction, removePhotoAction } from "../actions";

type Part = Awaited<ReturnType<typeof partById>>;

const MOMENTS = { BEFORE: "before", DURING: "during", AFTER: "after" } as const;

export function Photos({ part, mayAdd }: { readonly part: Part; readonly mayAdd: boolean }) {
  return (
    <Section title="Photos" id="photos">
      {part.photos.length === 0 && !mayAdd ? <Empty>No photo yet.</Empty> : null}
      <ul className="grid grid-cols-2 gap-4 sm:grid-cols-3 lg:grid-cols-4">
        {part.photos.map((photo) => (
          <li key={photo.id} className="plate overflow-hidden">
            <a href={`/photos/${photo.id}`}>
              <Image
                src={`/photos/${photo.id}?size=thumb`}
                alt={photo.caption || `${part.description}, ${MOMENTS[photo.moment]}`}
                width={photo.widthPx}
                height={photo.heightPx}
                unoptimized
                className="aspect-4/3 w-full object-cover"
              />
            </a>
            <div className="space-y-2 p-3">
              <p>
                {MOMENTS[photo.moment]}
                {photo.caption ? `: ${photo.caption}` : ""}
              </p>
              {mayAdd ? (
                <Confirm
                  label="Remove"
                  question="The photo is removed for good."
                  action={removePhotoAction}
                  confirm="Remove the photo"
                >
                  <input type="hidden" name="id" value={photo.id} />
                  <input type="hidden" name="partId" value={part.id} />
                </Confirm>
              ) : null}
            </div>
          </li>
        ))}
      </ul>
      {mayAdd ? (
        <details className="mt-4" open={part.photos.length === 0}>
          <summary className="min-h-11 py-2 font-medium">Add a photo</summary>
          <PhotoForm partId={part.id} />
        </details>
      ) : null}
    </Section>
  );
}

function PhotoForm({ partId }: { readonly partId: string }) {
  return (
    <Form
      action={addPhotoAction}
      label="Add a photo"
      clearWhenDone
      className="grid items-end gap-4 sm:grid-cols-4"
    >
      <input type="hidden" name="id" value={partId} />
      <label className="block">
        <span className="mb-1 block font-medium">Photo</span>
        {/* Naming these makes a phone hand over a JPEG where it keeps another kind itself. */}
        <input
          type="file"
          name="photo"
          accept="image/jpeg,image/png,image/webp"
          required
          className="min-h-11 w-full py-2"
        />
      </label>
      <SelectField
        name="moment"
        label="Taken"
        options={Object.entries(MOMENTS).map(([value, label]) => ({ value, label }))}
        required
      />
      <TextField name="caption" label="What it shows" />
      <Submit kind="plain">Add the photo</Submit>
    </Form>
  );
}
