import { useId, type ButtonHTMLAttributes, type ReactNode } from "react";

/** One solid ("go") button per sheet; refusing is framed red, never solid. Links take the same classes: `button button-go`. */
export function Button({ weight = "plain", className, type = "submit", ...rest }: ButtonHTMLAttributes<HTMLButtonElement> & { weight?: "plain" | "go" | "refuse" }) {
  const classes = ["button", weight === "plain" ? "" : `button-${weight}`, className ?? ""].filter(Boolean).join(" ");
  return <button type={type} className={classes} {...rest} />;
}

/**
 * A button that is not available, with the reason beside it. It can be reached with the keyboard and read, and it sends
 * nothing, with or without scripts.
 */
export function ButtonNotAvailable({ children, reason }: { children: ReactNode; reason: ReactNode }) {
  const reasonId = useId();
  return (
    <div className="not-available">
      <button type="button" className="button button-off" aria-disabled="true" aria-describedby={reasonId}>{children}</button>
      <p className="why" id={reasonId}>{reason}</p>
    </div>
  );
}
