import type { DeviceClaims } from "#lib/domain/photo/claims";

export interface Receipt {
  id: string;
  sha256: string;
}
export type Sent = { ok: true; receipt: Receipt } | { ok: false; message: string };

/** Positions older than this say where the phone was, not where the photo was taken. */
const POSITION_AGE_MS = 60_000;
const POSITION_WAIT_MS = 5_000;
const CLOCK_TRIES = 3;

let clock: Promise<Pick<DeviceClaims, "offsetToServerMs" | "roundTripMs">> | undefined;

/** How far the phone's clock is from the project's: the quickest of a few exchanges, taken once for each visit. */
export function clockOffset(project: string): NonNullable<typeof clock> {
  clock ??= (async () => {
    let best: { offsetToServerMs: number; roundTripMs: number } | undefined;
    for (let turn = 0; turn < CLOCK_TRIES; turn += 1) {
      const sentAt = performance.now();
      const answer = await fetch(`/p/${project}/now`, { cache: "no-store" });
      const roundTripMs = performance.now() - sentAt;
      const { now } = (await answer.json()) as { now: string };
      if (best && best.roundTripMs <= roundTripMs) continue;
      best = { offsetToServerMs: Math.round(Date.parse(now) + roundTripMs / 2 - Date.now()), roundTripMs: Math.round(roundTripMs) };
    }
    return best ?? {};
  })().catch(() => {
    clock = undefined;
    return {};
  });
  return clock;
}

/** Where the phone says it is; nothing where it may not or cannot tell. */
export function position(): Promise<Pick<DeviceClaims, "latitude" | "longitude" | "accuracyM">> {
  return new Promise((answer) => {
    if (!("geolocation" in navigator)) return answer({});
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => answer({ latitude: coords.latitude, longitude: coords.longitude, accuracyM: coords.accuracy }),
      () => answer({}),
      { enableHighAccuracy: true, maximumAge: POSITION_AGE_MS, timeout: POSITION_WAIT_MS },
    );
  });
}

/**
 * What the phone can say about a photo. It gives a time of capture only for a file that was written while the camera was
 * open for it: a file picked from the gallery carries its own time, or none.
 *
 * @param openedAt when the camera was opened, by the phone's clock; null for a file that was picked.
 */
export async function deviceClaims(project: string, file: File, openedAt: number | null): Promise<DeviceClaims> {
  const taken = openedAt !== null && file.lastModified >= openedAt && file.lastModified <= Date.now();
  const [offset, place] = await Promise.all([clockOffset(project), taken ? position() : {}]);
  return { ...offset, ...place, ...(taken ? { capturedAt: new Date(file.lastModified).toISOString() } : {}), monotonicMs: Math.round(performance.now()) };
}

/** SHA-256 of a file in hex; null where the page was not loaded over a secure connection and the browser cannot tell. */
export async function fileSha256(file: File): Promise<string | null> {
  const { subtle } = globalThis.crypto;
  if (!(subtle as SubtleCrypto | undefined)) return null;
  const digest = await subtle.digest("SHA-256", await file.arrayBuffer());
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

const NOT_SENT = "No connection. It is still on this phone: send it again.";

/** Sends a file as it is, with its own digest, and says how far it has come. */
export async function sendFile(url: string, file: File, device: DeviceClaims | null, progress: (share: number) => void): Promise<Sent> {
  const digest = await fileSha256(file);
  return new Promise((answer) => {
    const request = new XMLHttpRequest();
    request.open("PUT", url);
    request.responseType = "json";
    request.setRequestHeader("content-type", file.type || "application/octet-stream");
    request.setRequestHeader("x-file-name", encodeURIComponent(file.name));
    if (digest) request.setRequestHeader("x-content-sha256", digest);
    if (device) request.setRequestHeader("x-device", JSON.stringify(device));
    request.upload.onprogress = ({ loaded, total }) => progress(total > 0 ? loaded / total : 0);
    request.onerror = () => answer({ ok: false, message: NOT_SENT });
    request.onload = () => {
      const body = request.response as (Receipt & { detail?: string }) | null;
      if (request.status >= 200 && request.status < 300 && body) answer({ ok: true, receipt: body });
      else answer({ ok: false, message: body?.detail ?? NOT_SENT });
    };
    request.send(file);
  });
}
