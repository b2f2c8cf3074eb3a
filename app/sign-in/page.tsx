import type { Metadata } from "next";
import { house } from "#lib/services/house";
import { demonstrationPeople, DEMONSTRATION_PASSWORD, type DemonstrationPerson } from "#lib/edge/demonstration";
import { ownPath, signInPath } from "#lib/edge/page";
import { Cover } from "./cover";
import { SectionDrawing } from "./section-drawing";
import { SignInForm } from "./sign-in-form";

export const metadata: Metadata = { title: "Sign in" };

type Query = Record<string, string | string[] | undefined>;

export default async function SignInPage({ searchParams }: { searchParams: Promise<Query> }) {
  const { name, next } = await searchParams;
  const people = await demonstrationPeople(house());
  const chosen = people.find(({ signIn }) => signIn === name);
  const goesTo = typeof next === "string" ? ownPath(next) : null;
  return (
    <Cover title="Sign in" drawing={<SectionDrawing />} notes>
      <SignInForm name={chosen?.signIn ?? ""} password={chosen ? DEMONSTRATION_PASSWORD : ""} next={goesTo ?? ""} />
      {people.length > 0 && <DemonstrationPeople people={people} chosen={chosen} next={goesTo} />}
    </Cover>
  );
}

function DemonstrationPeople({ people, chosen, next }: { people: DemonstrationPerson[]; chosen: DemonstrationPerson | undefined; next: string | null }) {
  const back = signInPath(next);
  return (
    <section className="cover-people" aria-labelledby="people">
      <h2 id="people">Demonstration</h2>
      <p className="hint">Choose whose desk you sit at, then sign in. Everybody’s password is <b>{DEMONSTRATION_PASSWORD}</b>.</p>
      <ul className="cover-list cover-pairs">
        {people.map(({ signIn, name, roles }) => (
          <li key={signIn}>
            <a href={`${back}${back.includes("?") ? "&" : "?"}name=${encodeURIComponent(signIn)}`} aria-current={signIn === chosen?.signIn || undefined}>
              <b>{name}</b>
              <span className="letter">{roles.join(", ")}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
