// Asking the server. It computes everything; what comes back is shown as it is.
import type {
  Done,
  Echo,
  Frame,
  HistoryPage,
  LayoutPage,
  LeafPage,
  Preview,
  Slip,
  Start,
  SurveyPage,
  Wish,
} from "./wire";

/** Why the server did not do something (RFC 9457). Nothing was changed. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly says: string,
    /** Where in the typed text the fault begins; none where it is not about a text. */
    readonly at: number | null,
  ) {
    super(says);
  }

  /** Whether the plan was changed meanwhile, here or in another window. */
  get stale(): boolean {
    return this.status === 412;
  }
}

async function ask<T>(path: string, asked: RequestInit = {}): Promise<T> {
  let answer: Response;
  try {
    answer = await fetch(path, { credentials: "same-origin", ...asked });
  } catch {
    throw new Refused(0, "the program does not answer; start it again, nothing that was kept is lost", null);
  }
  if (!answer.ok) {
    const problem: unknown = await answer.json().catch(() => null);
    const { title, detail, at } = (problem ?? {}) as { title?: string; detail?: string; at?: number };
    throw new Refused(answer.status, detail ?? title ?? answer.statusText, at ?? null);
  }
  return (answer.status === 204 ? undefined : await answer.json()) as T;
}

function post<T>(path: string, body: unknown, moment?: number): Promise<T> {
  const headers: Record<string, string> = { "content-type": "application/json" };
  if (moment !== undefined) headers["if-match"] = `"${moment}"`;
  return ask(path, { method: "POST", headers, body: JSON.stringify(body) });
}

/** The drawing room on a page, in pixels, and what of the page is looked at. */
export interface Look {
  view: string;
  width: number;
  height: number;
  /** A moment of the history that is looked at; none where it is now. */
  at: number | null;
}

function query(look: Partial<Look>): string {
  const asked = new URLSearchParams();
  if (look.view) asked.set("view", look.view);
  if (look.width) asked.set("w", String(Math.floor(look.width)));
  if (look.height) asked.set("h", String(Math.floor(look.height)));
  if (look.at != null) asked.set("at", String(look.at));
  const text = asked.toString();
  return text ? `?${text}` : "";
}

export const start = () => ask<Start>("/api/start");
export const frame = () => ask<Frame>("/api/frame");
export const open = (path: string) => post<Frame>("/api/open", { path });
export const openDemo = (demo: string) => post<Frame>("/api/open", { demo });
export const newRoom = (name: string, unit: string) => post<Frame>("/api/open", { name, unit });
export const close = () => post<undefined>("/api/close", {});
export const survey = (look: Look) => ask<SurveyPage>(`/api/pages/survey${query(look)}`);
export const layout = (look: Look) => ask<LayoutPage>(`/api/pages/layout${query(look)}`);
export const leaves = (page: string, look: Look) => ask<LeafPage>(`/api/pages/${page}${query(look)}`);
export const history = () => ask<HistoryPage>("/api/pages/history");
export const slip = (of: string, deeper: string) =>
  ask<Slip>(`/api/slip?${new URLSearchParams({ of, deeper }).toString()}`);
export const echo = (text: string) => ask<Echo>(`/api/echo?${new URLSearchParams({ text }).toString()}`);
export const grant = (wish: Wish, moment: number) => post<Done>("/api/wish", wish, moment);
export const preview = (wish: Wish) => post<Preview>("/api/preview", wish);
export const SCENE = "/api/scene.glb";
export const PACKET = "/api/packet.pdf";
export const PLAN = "/api/plan.toml";
export const EVENTS = "/api/events";
