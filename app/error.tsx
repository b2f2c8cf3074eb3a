"use client";

import { Fault } from "./fault";

export default function ErrorPage({ error, reset }: { error: Error & { digest?: string }; reset: () => void }) {
  return <Fault reference={error.digest} retry={reset} />;
}
