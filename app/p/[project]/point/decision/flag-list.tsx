import type { ReactNode } from "react";
import type { GivenAnswer } from "#lib/domain/point/question";
import type { QuestionGroup } from "#lib/services/decision-photos";
import { FlagTriangle } from "../../../../_ui/mark";

const FLAG_ANSWERS: readonly GivenAnswer["answer"][] = ["seen", "explained", "rejected"];

interface FlagListProps {
  groups: readonly QuestionGroup[];
  /** What was answered before the form came back. */
  values: Record<string, string>;
}

/** The flags to answer: each says what was measured against which limit. One answer serves all photos of one camera. */
export function FlagList({ groups, values }: FlagListProps) {
  return (
    <ol className="flags">
      {groups.map((group) => <li key={group.number} className="flag"><Flag group={group} values={values} /></li>)}
    </ol>
  );
}

function Flag({ group, values }: { group: QuestionGroup; values: Record<string, string> }) {
  const { number, code, words, camera, items } = group;
  const [first] = items;
  const name = `answer.${number}`;
  return (
    <>
      <FlagTriangle n={number} />
      <div className="flag-body">
        <input type="hidden" name="flag" value={number} />
        <input type="hidden" name={`flag.${number}`} value={JSON.stringify(items.map(({ photo }) => ({ photo, code })))} />
        <Answers
          id={`flag-${number}`}
          name={name}
          chosen={values[name]}
          legend={<>{words}{items.length > 1 && <> · {items.length} photos of one camera, {camera}</>}</>}
          fact={first && `${items.length > 1 ? `${first.label}: ` : ""}${factOf(first)}`}
        />
        {items.length > 1 && (
          <details className="each-photo">
            <summary>Answer each photo by itself</summary>
            {items.map((item, index) => (
              <Answers key={item.photo} name={`${name}.${index}`} chosen={values[`${name}.${index}`]} legend={item.label} fact={factOf(item)} />
            ))}
          </details>
        )}
        <label className="answer-words">
          <span>Explanation, in words</span>
          <input name={`answerWords.${number}`} defaultValue={values[`answerWords.${number}`]} maxLength={2_000} />
        </label>
      </div>
    </>
  );
}

function factOf({ measured, limit }: QuestionGroup["items"][number]): string {
  return limit === "in order" ? measured : `${measured}; limit: ${limit}`;
}

function Answers({ id, name, chosen, legend, fact }: { id?: string; name: string; chosen: string | undefined; legend: ReactNode; fact?: string }) {
  return (
    <fieldset className="choice choice-row answer">
      <legend>{legend}</legend>
      {fact && <p className="letter">{fact}</p>}
      <div className="options">
        {FLAG_ANSWERS.map((answer, position) => (
          <label key={answer}>
            <input type="radio" id={position === 0 ? id : undefined} name={name} value={answer} defaultChecked={chosen === answer} />
            <span>{answer}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
