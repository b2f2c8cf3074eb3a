import { cookies } from "next/headers";

export const THEMES = ["day", "night"] as const;
export type Theme = (typeof THEMES)[number];

const THEME_COOKIE = "lastlook-theme";
const YEAR_SECONDS = 365 * 24 * 3_600;

/** The theme that the person chose on this device; without a choice the device decides. */
export async function keptTheme(): Promise<Theme | undefined> {
  const kept = (await cookies()).get(THEME_COOKIE)?.value;
  return THEMES.find((theme) => theme === kept);
}

/** Keeps the choice; null gives it back to the device. Only from a server action. */
export async function keepTheme(theme: Theme | null): Promise<void> {
  const jar = await cookies();
  if (theme) jar.set(THEME_COOKIE, theme, { httpOnly: true, sameSite: "lax", path: "/", maxAge: YEAR_SECONDS });
  else jar.delete(THEME_COOKIE);
}
