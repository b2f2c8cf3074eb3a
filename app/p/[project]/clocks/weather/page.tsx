import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { can } from "#lib/domain/access/can";
import { listInstruments } from "#lib/db/register";
import { openPage } from "#lib/edge/page";
import { weatherView, type WeatherView } from "#lib/services/weather-view";
import { Block } from "../../../../_ui/block";
import { Empty } from "../../../../_ui/empty";
import { SheetHead } from "../../../../_ui/sheet";
import { TableFrame } from "../../../../_ui/table";
import { ProjectFrame } from "../../project-frame";
import { clockSheets } from "../clock-sheets";
import { CsvForm } from "../csv-form";
import { LoggerChoices, LOGGER_CHOICES } from "../logger-choices";
import { addWeather } from "./actions";
import { Margins } from "./margins";
import { WeatherForm } from "./weather-form";
import "../clocks.css";

export const metadata: Metadata = { title: "Weather" };

export default async function WeatherPage({ params }: { params: Promise<{ project: string }> }) {
  const context = await openPage(params);
  const { house, project, member, at } = context;
  const [view, instruments] = await Promise.all([weatherView(house.db.read, project, at), listInstruments(house.db.read, project.id, project.zone)]);
  const reads = can(member, "read temperature", project.id);
  return (
    <ProjectFrame context={context} sheet="Weather" current="Clocks" back={{ href: `/p/${project.code}/clocks`, label: "Clocks" }}>
      <SheetHead title="Weather" lead={leadOf(view)} note="By hand or from a logger." subIndex={clockSheets(project.code, "Weather")} />
      <div className="clocks-columns weather-columns">
        <div className="stack">
          {view.rows.length > 0 ? <Readings view={view} /> : <Empty thing="list" title="No weather has been read yet.">Points that ask for air, humidity and surface offer what was read last.</Empty>}
        </div>
        <div className="stack">
          {!reads && <p className="letter">Crew, QC manager and inspectors enter what is read.</p>}
          {reads && (
            <Block title="A reading by hand" hand="held" note={view.asked.length > 0 ? `margin ${view.asked.join(" or ")}` : undefined}>
              <WeatherForm action={addWeather.bind(null, project.code)} id={randomUUID()} instruments={instruments.filter(({ class: kind }) => kind === "hygrometer" || kind === "thermometer").map(({ mark }) => mark)} />
            </Block>
          )}
          {reads && (
            <Block title="A logger's file">
              <CsvForm url={`/api/v1/projects/${project.code}/weather`} name="weather-log" label="Choose the file" choices={LOGGER_CHOICES}>
                <LoggerChoices name="weather-log" />
              </CsvForm>
            </Block>
          )}
          {view.files.length > 0 && <Files files={view.files} />}
        </div>
      </div>
    </ProjectFrame>
  );
}

function leadOf({ rows: [last] }: WeatherView): string {
  if (!last) return "Nothing read yet.";
  const [margin] = last.margins ?? [];
  return `${last.when}: air ${last.air}, ${last.humidity}, dew point ${last.dewPoint}${margin ? `, margin ${margin.measured} ${margin.verdict ?? ""}` : ""}.`;
}

function Readings({ view: { rows, readings } }: { view: WeatherView }) {
  return (
    <>
      <TableFrame label="Readings, newest first">
        <table className="table weather">
          <caption className="hide">Readings of the weather, newest first</caption>
          <thead><tr><th scope="col">Read</th><th scope="col">Air</th><th scope="col">Humidity</th><th scope="col">Surface</th><th scope="col">Dew point</th><th scope="col">Surface above dew point</th><th scope="col">From</th></tr></thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <th scope="row" className="num">{row.when}</th>
                <td className="num">{row.air}</td>
                <td className="num">{row.humidity}</td>
                <td className="num">{row.surface ?? "–"}</td>
                <td className="num">{row.dewPoint}</td>
                <td><Margins view={row} /></td>
                <td>{row.source}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableFrame>
      {readings > rows.length && <p className="letter">The last {rows.length} of {readings} readings. The others are in the record.</p>}
    </>
  );
}

function Files({ files }: { files: WeatherView["files"] }) {
  return (
    <Block title="Files read">
      <ul className="pad stack">
        {[...files].reverse().map(({ title, words, sha256 }) => <li key={sha256}><b>{title}</b><br /><span className="letter">{words}</span><br /><span className="code">{sha256.slice(0, 16)}</span></li>)}
      </ul>
    </Block>
  );
}
