import { existsSync } from "node:fs";
import { pathToFileURL } from "node:url";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import { chromium } from "playwright-core";

const PLACES = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

/** Starts Chromium from the system; the variable CHROMIUM names another place. */
export async function startBrowser(): Promise<Browser> {
  const named = process.env.CHROMIUM;
  const executablePath = [...(named === undefined ? [] : [named]), ...PLACES].find(existsSync);
  if (executablePath === undefined)
    throw new Error(
      "no Chromium: install the package chromium, or name its place in the environment variable CHROMIUM",
    );
  return chromium.launch({
    executablePath,
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}

/** A page with everything it complained of and asked for. */
export interface WatchedPage {
  readonly page: Page;
  /** Messages of the console above plain talk, and errors of scripts. */
  readonly complaints: readonly string[];
  /** Everything asked for beside the page itself; none of it was let through. */
  readonly requests: readonly string[];
  close(): Promise<void>;
}

/** Opens a file and watches it. */
export async function openPage(
  browser: Browser,
  file: string,
  options: BrowserContextOptions = {},
): Promise<WatchedPage> {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const address = pathToFileURL(file).href;
  const complaints: string[] = [];
  const requests: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  await page.route("**/*", async (route) => {
    const asked = route.request().url();
    if (asked === address) return route.continue();
    requests.push(asked);
    return route.abort();
  });
  await page.goto(address, { waitUntil: "networkidle" });
  return { page, complaints, requests, close: () => context.close() };
}
