import type { Metadata, Viewport } from "next";
import type { ReactNode } from "react";
import { keptTheme } from "#lib/edge/theme";
import "./_ui/index.css";

export const metadata: Metadata = {
  title: { default: "Lastlook", template: "%s · Lastlook" },
  description: "Inspection and sign-off record for encasement repair of piles",
};

export const viewport: Viewport = {
  width: "device-width",
  initialScale: 1,
  viewportFit: "cover",
  themeColor: [
    { media: "(prefers-color-scheme: light)", color: "#ffffff" },
    { media: "(prefers-color-scheme: dark)", color: "#0b141b" },
  ],
};

// Every page is drawn for the one who asks, with a nonce of its own.
export const dynamic = "force-dynamic";

export default async function RootLayout({ children }: { children: ReactNode }) {
  return (
    <html lang="en" data-theme={await keptTheme()}>
      <body>{children}</body>
    </html>
  );
}
