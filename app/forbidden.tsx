import { Cover } from "./sign-in/cover";

export default function Forbidden() {
  return (
    <Cover title="This sheet is not for your role">
      <div className="cover-words">
        <p>Other roles in this project work on it. Who has which role stands under Project, People.</p>
        <a className="button" href="/p">To your projects</a>
      </div>
    </Cover>
  );
}
