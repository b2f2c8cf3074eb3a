import { Cover } from "./sign-in/cover";

export default function NotFound() {
  return (
    <Cover title="There is no such sheet">
      <div className="cover-words">
        <p>The address leads to nothing that you can see. It may be mistyped, belong to another project, or be a link that has been used.</p>
        <a className="button" href="/p">To your projects</a>
      </div>
    </Cover>
  );
}
