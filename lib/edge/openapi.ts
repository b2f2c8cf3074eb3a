import { z } from "zod";
import { ProblemSchema } from "#lib/edge/problem";
import { CameraClockBody } from "#lib/edge/schema/camera";
import { ApprovalBody, OverrideBody } from "#lib/edge/schema/change";
import { ESTIMATE_QUERY } from "#lib/edge/schema/estimate";
import { AcceptanceBody, CheckBody, CloseoutBody, DecisionBody, DeviceHeader, SessionBody, SubmissionBody, TemperatureBody, WithdrawalBody } from "#lib/edge/schema/point";
import { CardChoiceBody, KnownFilesBody, LikenessBody, StreakBody } from "#lib/edge/schema/photo";
import { PhotoLimitsBody } from "#lib/edge/schema/photo-limits";
import { RevisionBody } from "#lib/edge/schema/requirement";
import { TAG_QUERY } from "#lib/edge/schema/tag";
import { LOGGER_QUERY, TideTableBody, WeatherBody } from "#lib/edge/schema/clock";

interface Operation {
  summary: string;
  /** Success status and what it answers. */
  answers: [status: number, description: string];
  body?: z.ZodType;
  /** A file as the raw body. */
  file?: string;
  query?: Record<string, string>;
  headers?: Record<string, string>;
  open?: true;
}

const UPLOAD_HEADERS = {
  "x-content-sha256": "SHA-256 of the file in hex, as computed by the sender; what arrives is compared with it",
  "x-file-name": "Name of the file, percent-encoded; shown, never used as a path",
};

/** Every endpoint, by path and method. The access test holds this list against the route files. */
const OPERATIONS: Record<string, Record<string, Operation>> = {
  "/api/health": { get: { summary: "Whether this installation can keep records safely", answers: [200, "What the database says of itself"], open: true } },
  "/api/openapi.json": { get: { summary: "This document", answers: [200, "OpenAPI 3.1"], open: true } },
  "/api/v1/sessions": { post: { summary: "Sign in", body: SessionBody, answers: [201, "A token for the Authorization header"], open: true } },
  "/api/v1/sessions/current": { delete: { summary: "Sign out", answers: [204, "Signed out"] } },
  "/api/v1/projects": { get: { summary: "Projects of who is signed in", answers: [200, "Codes and names"] } },
  "/api/v1/projects/{project}": { get: { summary: "A project with its piles", answers: [200, "Piles with their state and the points that are open"] } },
  "/api/v1/projects/{project}/piles/{mark}": { get: { summary: "A pile with its points", answers: [200, "Every point with its state and what blocks it"] } },
  "/api/v1/projects/{project}/piles/{mark}/acceptance": { post: { summary: "The owner accepts a pile", body: AcceptanceBody, answers: [201, "Recorded"] } },
  "/api/v1/projects/{project}/piles/{mark}/overrides": { post: { summary: "The engineer changes a requirement on one pile by its drawing, or takes that back", body: OverrideBody, answers: [201, "Receipt: id, digest, seq"] } },
  "/api/v1/projects/{project}/requirements/difference": {
    get: { summary: "Two revisions side by side: what changes, and how signed points stand under it", query: { from: "Letter of an approved revision", to: "Letter of an approved revision or of the draft" }, answers: [200, "Changes with their values, and the digest of the impact"] },
  },
  "/api/v1/projects/{project}/requirements/{letter}/approval": { post: { summary: "The engineer approves a reviewed draft, with an answer for every changed line", body: ApprovalBody, answers: [201, "Receipt: id, letter, digest, seq"] } },
  "/api/v1/projects/{project}/geojson": { get: { summary: "Piles that have a position", answers: [200, "GeoJSON, RFC 7946"] } },
  "/api/v1/projects/{project}/schedule": {
    put: { summary: "Send a drawing schedule to be matched and read; nothing of it is brought in", file: "application/octet-stream", query: { sheet: "Sheet of a workbook" }, headers: UPLOAD_HEADERS, answers: [201, "Columns, rows that are ready, and questions"] },
    get: { summary: "The schedule that the caller is reading", answers: [200, "Columns, rows that are ready, and questions"] },
  },
  "/api/v1/projects/{project}/points/{sheet}/{line}": { get: { summary: "A point: its plan line, what stands, what blocks", answers: [200, "The point"] } },
  "/api/v1/projects/{project}/points/{sheet}/{line}/photos": {
    put: {
      summary: "Send one photo for a subject of the point",
      file: "image/*",
      query: { subject: "Subject of the plan line", id: "UUID of the photo; sending it twice is one receipt" },
      headers: { ...UPLOAD_HEADERS, "x-device": `JSON: ${JSON.stringify(z.toJSONSchema(DeviceHeader, { io: "input" }))}` },
      answers: [201, "Receipt: id, sha256, bytes, receivedAt, seq"],
    },
  },
  "/api/v1/projects/{project}/points/{sheet}/{line}/documents": {
    put: {
      summary: "Send one PDF that the point asks for",
      file: "application/pdf",
      query: { use: "Document of the plan line", title: "Its title", id: "UUID of the document" },
      headers: UPLOAD_HEADERS,
      answers: [201, "Receipt: id, sha256, bytes, receivedAt, seq"],
    },
  },
  "/api/v1/projects/{project}/points/{sheet}/{line}/submissions": { post: { summary: "Submit a point", body: SubmissionBody, answers: [201, "Receipt: id, digest, seq, attempt"] } },
  "/api/v1/projects/{project}/points/{sheet}/{line}/decisions": { post: { summary: "Release, reject or reopen a point", body: DecisionBody, answers: [201, "Receipt: id, digest, seq"] } },
  "/api/v1/projects/{project}/points/{sheet}/{line}/temperatures": { post: { summary: "Add a temperature to a clock", body: TemperatureBody, answers: [201, "Recorded"] } },
  "/api/v1/projects/{project}/points/{sheet}/{line}/logger": {
    put: { summary: "Read a logger's file into a clock", file: "text/csv", query: LOGGER_QUERY, headers: UPLOAD_HEADERS, answers: [201, "Receipt: id, sha256, readings, words, seq"] },
  },
  "/api/v1/projects/{project}/weather": {
    post: { summary: "Record air, humidity and surface", body: WeatherBody, answers: [201, "Recorded"] },
    put: { summary: "Read a weather logger's file", file: "text/csv", query: LOGGER_QUERY, headers: UPLOAD_HEADERS, answers: [201, "Receipt: id, sha256, readings, words, seq"] },
  },
  "/api/v1/projects/{project}/tides": { put: { summary: "Keep a table of high and low waters", body: TideTableBody, answers: [201, "Recorded: id, waters"] } },
  "/api/v1/projects/{project}/clocks": { get: { summary: "Every clock that runs, and the tide's working windows", answers: [200, "Earliest and latest times: none of them is a permission"] } },
  "/api/v1/projects/{project}/submissions/{submission}/withdrawal": { post: { summary: "Withdraw a submission that is not decided", body: WithdrawalBody, answers: [201, "Recorded"] } },
  "/api/v1/projects/{project}/submissions/{submission}/check": { post: { summary: "The QC manager checks or sends back", body: CheckBody, answers: [201, "Recorded"] } },
  "/api/v1/projects/{project}/photos/{photo}/original": { get: { summary: "A photo exactly as received", answers: [200, "The file"] } },
  "/api/v1/projects/{project}/photos/{photo}/likeness": { post: { summary: "Say whether this photo and another that it is alike are one picture", body: LikenessBody, answers: [201, "Receipt: id, digest, seq"] } },
  "/api/v1/projects/{project}/cameras": {
    get: { summary: "The cameras that photos name, and how their clocks ran", query: { camera: "Key of a camera, to have its references too and what a confirmation changes" }, answers: [200, "Cameras with their state and finding"] },
  },
  "/api/v1/projects/{project}/cameras/clock": { post: { summary: "The QC manager confirms how a camera's clock ran", body: CameraClockBody, answers: [201, "Receipt: id, digest, seq"] } },
  "/api/v1/projects/{project}/clock-photos": {
    put: {
      summary: "Send one photo of the clock page, as its camera wrote it",
      file: "image/*",
      query: { id: "UUID of the photo; sending it twice is one receipt" },
      headers: UPLOAD_HEADERS,
      answers: [201, "Receipt: id, sha256, camera, shown, cameraSays, receivedAt, seq"],
    },
  },
  "/api/v1/projects/{project}/photo-limits": {
    get: { summary: "The limits that photos are held against", answers: [200, "Limits with range and default, and who changed what"] },
    post: { summary: "Set limits for photos received from here on", body: PhotoLimitsBody, answers: [201, "Receipt: id, digest, seq"] },
  },
  "/api/v1/projects/{project}/photos/{photo}/streaks": {
    get: { summary: "Whether the mix in a photo is uniform, inside a circle: an aid", query: { x: "Middle across, 0 to 1", y: "Middle down, 0 to 1", r: "Radius, share of the shorter side" }, answers: [200, "Verdict, share, contrast and cells"] },
    post: { summary: "The same, recorded", body: StreakBody, answers: [201, "Receipt and finding"] },
  },
  "/api/v1/projects/{project}/renditions/{px}/{sha256}": { get: { summary: "A reduced copy of a photo by its digest, 320 or 1600 px", answers: [200, "JPEG"] } },
  "/api/v1/projects/{project}/ready/{mark}/{line}/{file}": { get: { summary: "A photo that a demonstration offers for one of its points", answers: [200, "JPEG"] } },
  "/api/v1/projects/{project}/documents/{document}": { get: { summary: "A document exactly as received", answers: [200, "PDF"] } },
  "/api/v1/projects/{project}/requirements": { get: { summary: "The requirement revisions of a project", answers: [200, "Letters with state, digest and the time they apply from"] } },
  "/api/v1/projects/{project}/requirements/{letter}": {
    get: { summary: "A requirement revision, or the draft of one", answers: [200, "Canonical JSON; its SHA-256 is the digest, also in ETag"] },
    put: { summary: "Put a revision in the place of the draft", body: RevisionBody, headers: { "if-match": "Digest of the draft it takes the place of, in quotes; without it there is no draft yet" }, answers: [200, "Letter, digest, and what still stops the review"] },
  },
  "/api/v1/requirement-revision.schema.json": { get: { summary: "JSON Schema of a requirement revision", answers: [200, "JSON Schema 2020-12"], open: true } },
  "/api/v1/projects/{project}/estimate": { get: { summary: "Quantities of a selection of piles, with how they are worked out", query: ESTIMATE_QUERY, answers: [200, "Piles, cut list and order list"] } },
  "/api/v1/projects/{project}/estimate/csv": { get: { summary: "The same as a table", query: { ...ESTIMATE_QUERY, table: "piles, cuts or order; without it, piles" }, answers: [200, "CSV"] } },
  "/api/v1/projects/{project}/estimate/pdf": { get: { summary: "The same to be printed", query: ESTIMATE_QUERY, answers: [200, "PDF"] } },
  "/api/v1/projects/{project}/card": {
    get: { summary: "The caller's camera card: photos in groups, with where each is proposed to go and why", answers: [200, "Groups"] },
    put: { summary: "Send one photo of a camera card; nothing of it is assigned", file: "image/*", headers: UPLOAD_HEADERS, answers: [201, "Its id on the card, or null where it is on record already"] },
    post: { summary: "Put photos of the card to points, and leave others out, in one act", body: CardChoiceBody, answers: [201, "How many were taken and left"] },
  },
  "/api/v1/projects/{project}/card/known": { post: { summary: "Which files need not be sent", body: KnownFilesBody, answers: [200, "Digests on the card, and on record"] } },
  "/api/v1/projects/{project}/tags": { get: { summary: "The tags of the piles in scope", query: TAG_QUERY, answers: [200, "Bents, and each tag with what its code says"] } },
  "/api/v1/projects/{project}/tags/pdf": { get: { summary: "The same to be printed, eight to a page", query: TAG_QUERY, answers: [200, "PDF"] } },
  "/api/v1/projects/{project}/closeout": {
    get: { summary: "How complete the record is, and what was issued", answers: [200, "Completeness, open items, issues"] },
    post: { summary: "Issue a closeout package", body: CloseoutBody, answers: [201, "Number and SHA-256 of the package"] },
  },
  "/api/v1/projects/{project}/closeout/{file}": { get: { summary: "An issued package, such as 1.zip", answers: [200, "ZIP"] } },
};

/** The description of the API, made from the schemas that the handlers parse with. */
export function openApiDocument(): Record<string, unknown> {
  return {
    openapi: "3.1.0",
    info: { title: "Lastlook", version: "1", description: "Everything a screen does. Errors are problem details (RFC 9457)." },
    components: {
      securitySchemes: { session: { type: "http", scheme: "bearer" } },
      schemas: { Problem: z.toJSONSchema(ProblemSchema) },
    },
    security: [{ session: [] }],
    paths: Object.fromEntries(Object.entries(OPERATIONS).map(([path, methods]) => [path, Object.fromEntries(Object.entries(methods).map(([method, operation]) => [method, describe(path, operation)]))])),
  };
}

function describe(path: string, { summary, answers: [status, description], body, file, query = {}, headers = {}, open }: Operation): Record<string, unknown> {
  const parameter = (name: string, place: string, text: string, required: boolean) => ({ name, in: place, required, description: text, schema: { type: "string" } });
  const parameters = [
    ...[...path.matchAll(/\{(\w+)\}/g)].map(([, name = ""]) => parameter(name, "path", name, true)),
    ...Object.entries(query).map(([name, text]) => parameter(name, "query", text, name === "subject" || name === "use")),
    ...Object.entries(headers).map(([name, text]) => parameter(name, "header", text, false)),
  ];
  const content = body ? { "application/json": { schema: z.toJSONSchema(body, { io: "input" }) } } : file ? { [file]: { schema: {} } } : null;
  return {
    summary,
    ...(parameters.length > 0 ? { parameters } : {}),
    ...(content ? { requestBody: { required: true, content } } : {}),
    ...(open ? { security: [] } : {}),
    responses: {
      [status]: { description },
      default: { description: "A problem", content: { "application/problem+json": { schema: { $ref: "#/components/schemas/Problem" } } } },
    },
  };
}
