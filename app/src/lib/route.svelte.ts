// Where one is: the page, and what is looked at on it, in the address behind the #.

class Route {
  page = $state('')
  view = $state('')

  constructor() {
    this.read()
    window.addEventListener('hashchange', () => this.read())
  }

  private read(): void {
    const [page, ...view] = location.hash.replace(/^#\/?/, '').split('/')
    this.page = page ?? ''
    this.view = decodeURIComponent(view.join('/'))
  }

  go(page: string, view = ''): void {
    location.hash = address(page, view)
  }
}

export function address(page: string, view = ''): string {
  return view ? `#/${page}/${encodeURIComponent(view)}` : `#/${page}`
}

export const route = new Route()
