// What is open, where it stands, and asking for more. Nothing here computes or formats a size.
import type { Changed, Done, Frame, Preview, Wish } from '../wire'

/** What the server says when it does not do something (RFC 9457). */
export class Problem extends Error {
  constructor(
    readonly status: number,
    detail: string,
    readonly at: number | null,
  ) {
    super(detail)
  }
}

async function answer<T>(asked: Promise<Response>): Promise<T> {
  let response: Response
  try {
    response = await asked
  } catch {
    throw new Problem(0, 'dryfit does not answer: is it still running where you started it?', null)
  }
  if (!response.ok) {
    const said = await response.json().catch(() => ({}))
    throw new Problem(response.status, said.detail ?? response.statusText, said.at ?? null)
  }
  const text = await response.text()
  return (text ? JSON.parse(text) : null) as T
}

export function get<T>(path: string): Promise<T> {
  return answer<T>(fetch(`./api/${path}`))
}

function send<T>(method: string, path: string, body: unknown, headers: Record<string, string> = {}): Promise<T> {
  const all = { 'Content-Type': 'application/json', ...headers }
  return answer<T>(fetch(`./api/${path}`, { method, headers: all, body: JSON.stringify(body) }))
}

class Desk {
  /** What is round every page; none where nothing is open. */
  frame = $state<Frame | null>(null)
  /** Whether the first answer has come. */
  ready = $state(false)
  /** What the last edit changed. */
  changed = $state<Changed | null>(null)
  /** What went wrong last, until the next thing is done. */
  trouble = $state('')
  /** A moment of the history that is looked at. */
  at = $state<number | null>(null)
  /** Counts up when what is shown has to be asked for again. */
  version = $state(0)
  /** Whether an edit is being worked out. */
  working = $state(false)

  async look(): Promise<void> {
    try {
      this.frame = await get<Frame>('frame')
    } catch (fault) {
      if (!(fault instanceof Problem && fault.status === 409)) this.tell(fault)
      this.frame = null
    }
    this.ready = true
    this.version += 1
  }

  listen(): void {
    const events = new EventSource('./api/events')
    events.addEventListener('moved', (event) => {
      if (event.data !== this.frame?.tag) void this.look()
    })
  }

  tell = (fault: unknown): void => {
    this.trouble = fault instanceof Error ? fault.message : String(fault)
  }

  async open(how: 'open' | 'new' | 'demo', what: unknown): Promise<boolean> {
    try {
      this.frame = await send<Frame>('POST', how, what)
      this.changed = null
      this.trouble = ''
      this.at = null
      this.version += 1
      return true
    } catch (fault) {
      this.tell(fault)
      return false
    }
  }

  async close(): Promise<void> {
    await send('POST', 'close', {}).catch(this.tell)
    this.changed = null
    this.frame = null
  }

  /** Grants a wish, or throws why not. A plan that stands elsewhere is looked at again first. */
  async wish(wish: Wish): Promise<void> {
    this.working = true
    try {
      const done = await send<Done>('POST', 'edits', wish, { 'If-Match': `"${this.frame?.tag ?? ''}"` })
      this.at = null
      this.frame = done.frame
      this.changed = done.changed
      this.trouble = ''
      this.version += 1
    } catch (fault) {
      if (fault instanceof Problem && fault.status === 412) void this.look()
      throw fault
    } finally {
      this.working = false
    }
  }

  /** The same, telling what went wrong at the foot of the page. */
  async try(wish: Wish): Promise<boolean> {
    try {
      await this.wish(wish)
      return true
    } catch (fault) {
      this.tell(fault)
      return false
    }
  }

  preview(wish: Wish): Promise<Preview> {
    return send<Preview>('POST', 'preview', wish)
  }
}

export const desk = new Desk()

/** What the server shows at an address, asked for again whenever the plan moves; the old stays until the new is there. */
export function shown<T>(address: () => string): { readonly data: T | null } {
  let data = $state<T | null>(null)
  $effect(() => {
    void desk.version
    const at = desk.at === null ? '' : `&at=${desk.at}`
    let wanted = true
    get<T>(address() + at).then((answer) => {
      if (wanted) data = answer
    }, desk.tell)
    return () => {
      wanted = false
    }
  })
  return {
    get data() {
      return data
    },
  }
}
