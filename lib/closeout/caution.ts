/** What stands on every page of a record. */
export const NOT_A_SUBSTITUTE = "Not a substitute for the engineer’s judgement, the contract, or a person looking.";

/** The cautions that travel with a package: one sentence or two each. */
export const CAUTIONS: readonly string[] = [
  "Not a substitute for the engineer's judgement, the contract, manufacturer's data, local codes, or a person looking. A licensed engineer decides on structural matters, loads and concessions; the values here are arithmetic on entered data.",
  "A clock gives an earliest time, never a permission: never load, strip or lift because a clock says so.",
  "Epoxy resins sensitise skin: keep them off it. Mixed mass in a bucket heats up and may smoke or burn; unreacted streaks stay soft.",
  "Drilling, grinding and blasting concrete frees respirable silica. Old coatings may hold lead, timber may hold creosote.",
  "Work over and in water, diving, tides, wakes, confined space and cold have their own procedures. Tide estimates are not for navigation or for diver safety.",
  "Heavy wet grout, pressure on seal and jacket, ties under tension, dropped objects: temporary works are designed by a competent person. Do not remove load path parts of a damaged pile unannounced.",
  "Stand clear of torque and proof loading. Fresh grout is caustic: mind eyes and skin. Discharge to water needs permits.",
  "Photo verdicts are evidence aids: \"too late\" does not accuse, \"in order\" does not prove the content. Positions and clocks can be wrong or forged. Photos may show workers: handle them as personal data.",
  "Formulas marked as common practice need the project's confirmation.",
];
