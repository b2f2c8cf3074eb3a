"use client";

import { Fault } from "./fault";
import "./_ui/index.css";

/** Stands in for the whole page when its frame itself has failed. */
export default function GlobalErrorPage({ error, reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return (
    <html lang="en">
      <body>
        <Fault reference={error.digest} retry={reset} />
      </body>
    </html>
  );
}
