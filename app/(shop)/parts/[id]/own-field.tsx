"use client";

import { useEffect, useMemo, useState } from "react";
import type { Mesh } from "@/lib/field";
import type { FieldFindings, FieldSubject } from "@/lib/treatment";
import { Notice } from "@/app/ui";
import { FieldSection } from "./field/field-section";
import { meshFromBytes } from "./shape-bytes";

type Props = {
  readonly subject: FieldSubject;
  /** What is stored with the plan; null where nothing that still holds is. */
  readonly findings: FieldFindings | null;
  /** Where the part's own shape is; null where the plain shape stands for it. */
  readonly shapeAt: string | null;
};

/** The look into the bath, with the part's own shape where it has one. */
export function OwnField({ shapeAt, ...rest }: Props) {
  if (!shapeAt) return <FieldSection {...rest} />;
  return <WithShape key={shapeAt} {...rest} shapeAt={shapeAt} />;
}

function WithShape({ subject, findings, shapeAt }: Props & { readonly shapeAt: string }) {
  const [mesh, setMesh] = useState<Mesh | "lost" | null>(null);
  useEffect(() => {
    const leaving = new AbortController();
    fetch(shapeAt, { signal: leaving.signal })
      .then((answer) => answer.arrayBuffer())
      .then((bytes) => setMesh(meshFromBytes(bytes)))
      .catch(() => {
        if (!leaving.signal.aborted) setMesh("lost");
      });
    return () => leaving.abort();
  }, [shapeAt]);
  const shaped = useMemo(
    () => (mesh === null || mesh === "lost" ? null : { ...subject, mesh }),
    [subject, mesh],
  );
  if (mesh === null) return <p role="status">{"Fetching the part's own shape …"}</p>;
  if (mesh === "lost") {
    return (
      <Notice
        tone="oxide"
        title="The part's own shape did not arrive. Look at the signal, and open the page again."
      />
    );
  }
  return shaped ? <FieldSection subject={shaped} findings={findings} /> : null;
}
