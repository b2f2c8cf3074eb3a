// Brings the database up to the newest migration, or makes it.
import { databaseFile } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";

const file = databaseFile();
const applied = migrate(file);
console.log(applied.length > 0 ? `Applied ${applied.join(", ")} to ${file}.` : `${file} is up to date.`);
