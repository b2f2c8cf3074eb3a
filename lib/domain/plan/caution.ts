/** Stands beside every clock. */
export const CLOCK_CAUTION = "Earliest, not a permission.";

const SILICA = "Drilling and grinding concrete gives off silica dust: wet methods or extraction.";
const RESIN = "Resin and hardener sensitise the skin: gloves on, nothing on bare skin.";
const BATCH = "Mixed resin in a bucket heats up and may smoke or burn: keep to the batch mass, spread it out, no sealed lid.";
const CAUSTIC = "Fresh grout is caustic: guard eyes and skin. Nothing into the water.";
const PRESSURE = "Wet grout is heavy and presses on seal and jacket: stand clear, stop when anything moves.";
const NOT_A_PERMISSION = "Never load, strip or lift because a clock says so: it is an earliest time, not a permission.";

/** What to mind at a point, by its line. Lines without an entry have nothing beyond the site's own procedures. */
const CAUTIONS: Readonly<Record<string, readonly string[]>> = {
  "1": ["Water, tide, wake and cold have their own procedures. Levels shown here are not for navigation or for diver safety."],
  "3": ["Old timber may hold creosote and old coatings lead: find out before cleaning."],
  "4": [SILICA, "Old coatings may hold lead: find out before blasting or grinding."],
  "5": ["Do not take away any part that carries load without telling the engineer."],
  "6": [SILICA],
  "7": [RESIN, "Stand clear while a bar is proof-loaded."],
  "9": ["Stand clear of the wrench: a bolt may let go under torque."],
  "13": [RESIN, BATCH],
  "14": [RESIN],
  "15": [RESIN],
  "16": ["Ties are under tension: keep clear of the line of pull."],
  "17": [NOT_A_PERMISSION],
  "18": [CAUSTIC],
  "19": [CAUSTIC, PRESSURE],
  "20": [CAUSTIC, PRESSURE],
  "21": [CAUSTIC],
  "22": [NOT_A_PERMISSION],
  "23": ["Cut ties spring back, and a jacket half may fall: stand clear and secure it first."],
  "24": [RESIN],
};

/** Short cautions that are shown where a point is done. They take no procedure's place. */
export function cautionsAt(line: string): readonly string[] {
  return CAUTIONS[line] ?? [];
}
