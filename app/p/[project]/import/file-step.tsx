"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { Block } from "../../../_ui/block";
import { ErrorSummary } from "../../../_ui/error-summary";
import { TextAreaField, TextField } from "../../../_ui/field";
import { ActionForm } from "../action-form";
import { drop, paste } from "./actions";

const MOST_MB = 20;

/** Where the schedule comes from: a file, or cells copied out of a spreadsheet. */
export function FileStep({ project, reading }: { project: string; reading: boolean }) {
  return (
    <div className="import-file">
      <Block title="A file" note={`XLSX, CSV or GeoJSON, up to ${MOST_MB} MB`}>
        <FileForm project={project} />
        <noscript><p className="pad doubtful">A file is sent by a script, and scripts are off. Paste the rows instead.</p></noscript>
      </Block>
      <Block title="Or paste" note="rows with their header, copied out of the spreadsheet">
        <div className="pad">
          <ActionForm
            action={paste.bind(null, project)} name="paste" label="Paste a schedule" submit="Read what was pasted"
            fields={(values, errors) => <TextAreaField id="paste-text" name="text" label="Rows" rows={8} defaultValue={values.text} error={errors.text} spellCheck={false} wrap="off" />}
          />
        </div>
      </Block>
      {reading && <form action={drop.bind(null, project)} className="import-drop"><button className="button">Let go of the file being read</button></form>}
    </div>
  );
}

function FileForm({ project }: { project: string }) {
  const router = useRouter();
  const [message, setMessage] = useState<string | null>(null);
  const [sending, setSending] = useState(false);

  async function send(form: FormData): Promise<void> {
    const file = form.get("file");
    if (!(file instanceof File) || file.size === 0) return setMessage("Choose the file of the schedule.");
    if (file.size > MOST_MB * 1024 ** 2) return setMessage(`The file is larger than ${MOST_MB} MB. Send the sheet with the piles only.`);
    setSending(true);
    const sheet = String(form.get("sheet") ?? "").trim();
    const answer = await fetch(`/api/v1/projects/${project}/schedule${sheet ? `?sheet=${encodeURIComponent(sheet)}` : ""}`, {
      method: "PUT", body: file, headers: { "x-file-name": encodeURIComponent(file.name), "content-type": "application/octet-stream" },
    }).catch(() => null);
    if (answer?.ok) return router.push(`/p/${project}/import?step=columns`);
    setSending(false);
    const problem = (await answer?.json().catch(() => null)) as { detail?: string } | null;
    setMessage(problem?.detail ?? "The file did not arrive. Check the connection and send it again.");
  }

  return (
    <form
      id="schedule-file" className="pad stack" aria-label="Send a file"
      onSubmit={(event) => {
        event.preventDefault();
        void send(new FormData(event.currentTarget));
      }}
    >
      {message && <ErrorSummary title={message} errors={[]} />}
      <div className="field">
        <label htmlFor="schedule-file-file">Schedule</label>
        <div className="control"><input id="schedule-file-file" type="file" name="file" accept=".xlsx,.csv,.tsv,.txt,.geojson,.json" /></div>
      </div>
      <TextField id="schedule-file-sheet" name="sheet" label="Sheet of the workbook" hint="Leave it empty for the first one with something in it." maxLength={60} />
      <button className="button button-go" disabled={sending}>{sending ? "Reading …" : "Read the file"}</button>
    </form>
  );
}
