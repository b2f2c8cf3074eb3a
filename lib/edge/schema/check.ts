import type { Fault } from "#lib/domain/refusal";
import { Form } from "#lib/edge/schema/check-form";
import { anchor, embedded, resinHole } from "#lib/edge/schema/check/bar";
import { dew, film } from "#lib/edge/schema/check/coating";
import { formwork, maturity, take, unsetHead } from "#lib/edge/schema/check/grout";
import type { CheckResult, SamplingCheck, StrengthCheck } from "#lib/edge/schema/check/result";
import { pullOff, sampling, strength } from "#lib/edge/schema/check/sample";
import { wrench } from "#lib/edge/schema/check/wrench";

export interface Checks {
  /** As typed, by field. */
  typed: Record<string, string>;
  faults: Fault[];
  sampling: SamplingCheck | null;
  strength: StrengthCheck | null;
  pullOff: CheckResult | null;
  embedment: CheckResult | null;
  dew: CheckResult | null;
  unsetHead: CheckResult | null;
  take: CheckResult | null;
  formwork: CheckResult | null;
  wrench: CheckResult | null;
  resinHole: CheckResult | null;
  anchor: CheckResult | null;
  film: CheckResult | null;
  maturity: CheckResult | null;
}

/** Works out the checks whose fields are filled in an address. A field that cannot be read is told, and the others stay. */
export function readChecks(query: URLSearchParams): Checks {
  const form = new Form(query);
  return {
    sampling: form.check(["lot", "bad", "checked", "accept"], () => sampling(form)),
    strength: form.check(["tests", "specified", "early"], () => strength(form)),
    pullOff: form.check(["force", "dolly", "pull-least"], () => pullOff(form)),
    embedment: form.check(["bar-length", "projection"], () => embedded(form)),
    dew: form.check(["air", "humidity", "surface"], () => dew(form)),
    unsetHead: form.check(["lifts", "set", "lift-wait"], () => unsetHead(form)),
    take: form.check(["take-bags", "take-volume"], () => take(form)),
    formwork: form.check(["density", "head", "rate", "mix"], () => formwork(form)),
    wrench: form.check(["wrench-reading", "wrench-indicated", "wrench-delivered"], () => wrench(form)),
    resinHole: form.check(["resin-hole", "resin-bar", "resin-depth"], () => resinHole(form)),
    anchor: form.check(["anchor-embedment", "anchor-bar", "anchor-bond"], () => anchor(form)),
    film: form.check(["film-mass", "film-area", "film-density"], () => film(form)),
    maturity: form.check(["log", "log-datum", "log-q", "log-reference"], () => maturity(form)),
    typed: form.typed,
    faults: form.faults,
  };
}
