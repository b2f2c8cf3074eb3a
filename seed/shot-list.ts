import type { PhotoSubject } from "#lib/domain/requirement/set";
import type { Scene, SceneOptions } from "#seed/photo/scene";

/** What is drawn besides pile and variant. */
export type Sight = { scene: Scene } & Pick<SceneOptions, "face" | "item" | "value" | "text">;

/** What the photos of a point show: the typed values and the lots can be read off them. */
export interface Seen {
  /** A typed value by quantity or "quantity.item"; empty where it was not typed. */
  value(quantity: string, item?: number): string;
  /** Number of the lot named for a use. */
  lot(use: string): string;
  /** What a clock has reached, as its logger shows it. */
  logged: string;
  mark: string;
  day: string;
}

const FACES = ["N", "E", "S", "W"] as const;
const face = (n: number) => FACES[(n - 1) % FACES.length] ?? "N";

type Look = (n: number, seen: Seen) => Sight;

/** What the n-th photo of a subject shows, by "line.subject". */
const LOOKS: Record<string, Look> = {
  "1.work-area": () => ({ scene: "work-area" }),
  "2.tag": () => ({ scene: "pile-tag" }),
  "2.faces": (n) => ({ scene: "pile-face", face: face(n) }),
  "3.faces": (n) => ({ scene: "face-clean", face: face(n) }),
  "4.close-up": (n) => ({ scene: "surface-closeup", face: face(n) }),
  "4.overview": () => ({ scene: "surface-overview" }),
  "5.gauge": (n, { value }) => ({ scene: "gauge-on-metal", item: n, value: value("thickness", n) }),
  "5.spot": (n) => ({ scene: "surface-closeup", face: face(n) }),
  "5.map": () => ({ scene: "loss-map" }),
  "6.depth": (n, { value }) => ({ scene: "hole-depth", item: n, value: value("depth", n) }),
  "6.clean": (n) => ({ scene: "hole-clean", item: n }),
  "7.bar": (n, { value }) => ({ scene: "bar-tape", item: n, value: value("projection", n) }),
  "7.return": (n) => ({ scene: "resin-return", item: n }),
  "7.label": (_n, { lot }) => ({ scene: "lot-label", text: `LOT ${lot("resin-a")}\nLOT ${lot("resin-b")}` }),
  "8.clamp": (n) => ({ scene: "clamp", item: n }),
  "9.wrench": (n, { value }) => ({ scene: "torque-wrench", item: n, value: value("torque", n) }),
  "9.paint": () => ({ scene: "paint-marks" }),
  "10.ring": (n) => ({ scene: "spacer-ring", item: n }),
  "11.overview": (n) => ({ scene: "cover-up-overview", face: face(n) }),
  "12.cut": (_n, { value }) => ({ scene: "jacket-cut", value: value("length") }),
  "12.label": (_n, { lot }) => ({ scene: "lot-label", text: `ROLL ${lot("jacket")}` }),
  "13.scale": (n, { value }) => ({ scene: "scale-reading", value: value(n === 1 ? "mass-a" : "mass-b"), text: n === 1 ? "A" : "B" }),
  "13.mix": () => ({ scene: "mix" }),
  "13.label": (_n, { lot }) => ({ scene: "lot-label", text: `LOT ${lot("resin-a")}\nLOT ${lot("resin-b")}` }),
  "14.coated": (n, { value }) => ({ scene: "coated-strip", item: n, value: value("film") }),
  "15.edge": () => ({ scene: "wrap-edge" }),
  "15.overlap": (n, { value }) => ({ scene: "overlap", item: n, value: value("overlap") }),
  "15.annulus": (n, { value }) => ({ scene: "annulus-top", face: face(n), value: value("gap", n) }),
  "16.side": (n) => ({ scene: "ties", item: n }),
  "16.seam": () => ({ scene: "seam-full" }),
  "17.seam": () => ({ scene: "seam" }),
  "17.logger": (_n, { logged }) => ({ scene: "logger-screen", value: logged, text: "LG-2" }),
  "18.round": (n) => ({ scene: "bottom-seal", item: n }),
  "18.test": (n, { value }) => ({ scene: "seal-test", item: n, value: value("held") }),
  "19.top": (_n, { value }) => ({ scene: "lift-top", value: value("height") }),
  "19.bottom": (n) => ({ scene: "bottom-no-leak", item: n }),
  "20.before": () => ({ scene: "lift-before" }),
  "20.after": () => ({ scene: "lift-after" }),
  "21.top": () => ({ scene: "grout-top" }),
  "21.specimens": (_n, { mark, day }) => ({ scene: "specimens", text: `${mark}\n${day}` }),
  "22.logger": (_n, { logged }) => ({ scene: "logger-screen", value: logged, text: "LG-2" }),
  "23.faces": (n) => ({ scene: "stripped-face", face: face(n) }),
  "24.seam": () => ({ scene: "seam" }),
  "24.edge": () => ({ scene: "top-edge" }),
  "26.faces": (n) => ({ scene: "final-face", face: face(n) }),
  "26.tag": () => ({ scene: "pile-tag" }),
  "P4.open": (n) => ({ scene: "stripped-face", face: face(n) }),
};

/** What the n-th photo of a subject shows. Throws for a subject that nothing is known of. */
export function sightOf(line: string, subject: Pick<PhotoSubject, "id">, n: number, seen: Seen): Sight {
  const look = LOOKS[`${line}.${subject.id}`];
  if (!look) throw new Error(`Nothing is known of what ${subject.id} at point ${line} looks like.`);
  return look(n, seen);
}
