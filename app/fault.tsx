import { Cover } from "./sign-in/cover";

/** What a person sees of a bug: that nothing more was done, how to go on, and the reference under which it stands in the log. */
export function Fault({ reference, retry }: { reference: string | undefined; retry: () => void }) {
  return (
    <Cover title="This sheet could not be drawn">
      <div className="cover-words" role="alert">
        <p>The fault is on the server’s side. What was received before stays on file. Load the sheet again before you send anything twice.</p>
        {reference && <p>Reference <span className="code">{reference}</span></p>}
        <button className="button" type="button" onClick={retry}>Load again</button>
      </div>
    </Cover>
  );
}
