import type { Tx } from "#lib/db/client";
import type { ClockPhotoBody, PhotoBody } from "#lib/records/photo-kind";

/** Keeps what a photo says about its camera's clock: what the clock showed, beside the true time by GPS, phone or clock page. */
export async function keepSamples(_tx: Tx, _place: { projectId: string; seq: number }, _body: PhotoBody | ClockPhotoBody): Promise<void> {}
