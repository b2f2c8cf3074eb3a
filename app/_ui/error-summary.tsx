"use client";

import { useEffect, useId, useRef } from "react";

export interface FormError {
  message: string;
  /** The field it is about: "#base-temperature". */
  href: string;
}

/** What stops a form from being sent, on top of it. Takes the focus when it appears, so that it is read first. */
export function ErrorSummary({ title, errors }: { title: string; errors: FormError[] }) {
  const box = useRef<HTMLElement>(null);
  const headingId = useId();
  useEffect(() => box.current?.focus(), [errors]);
  return (
    <section className="errors" role="alert" tabIndex={-1} ref={box} aria-labelledby={headingId}>
      <h2 id={headingId}>{title}</h2>
      <ul>
        {errors.map((error) => (
          <li key={error.href + error.message}><a href={error.href}>{error.message}</a></li>
        ))}
      </ul>
    </section>
  );
}
