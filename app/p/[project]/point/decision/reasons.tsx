import { REASON_CODES } from "#lib/domain/point/history";
import { TextAreaField } from "../../../../_ui/field";

interface ReasonsProps {
  /** Start of the ids, where a page holds more than one such list. */
  id: string;
  chosen: readonly string[];
  words: string;
  /** What is wrong with what was given before, by field. */
  errors: Record<string, string>;
}

/** The closed list of reasons, and words beside it: what has to be mended, for the person on the pile. */
export function Reasons({ id, chosen, words, errors }: ReasonsProps) {
  return (
    <>
      <fieldset className={errors.codes ? "reasons field-bad" : "reasons"} aria-describedby={errors.codes ? `${id}-codes-error` : undefined}>
        <legend>Reason</legend>
        <div className="reason-list">
          {Object.entries(REASON_CODES).map(([code, meaning], position) => (
            <label key={code}>
              <input type="checkbox" name="codes" value={code} id={position === 0 ? `${id}-codes` : undefined} defaultChecked={chosen.includes(code)} />
              <span><b>{code}</b> {meaning}</span>
            </label>
          ))}
        </div>
        {errors.codes && <p className="error" id={`${id}-codes-error`}>{errors.codes}</p>}
      </fieldset>
      <TextAreaField id={`${id}-words`} name="words" label="What has to be mended, in words" defaultValue={words} maxLength={2_000} error={errors.words} />
    </>
  );
}
