// The page in a real browser, from nothing to the packet: what a builder does, and no violation of WCAG 2.2 AA.
// Usage: node e2e/run.mjs PROGRAM [FOLDER FOR PICTURES]
import assert from 'node:assert/strict'
import { spawn } from 'node:child_process'
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { gzipSync } from 'node:zlib'
import { chromium } from 'playwright-core'

const [program, pictures] = process.argv.slice(2).map((path) => resolve(path))
assert(program, 'say which program to try')
if (pictures) mkdirSync(pictures, { recursive: true })
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core'), 'utf8')
const folder = mkdtempSync(join(tmpdir(), 'dryfit-page-'))

/** Starts the program; its address, and how to end it. */
async function serve(...line) {
  const running = spawn(program, ['open', '--no-open', ...line], {
    cwd: folder,
    env: { ...process.env, XDG_STATE_HOME: join(folder, 'state') },
  })
  const address = await new Promise((found, failed) => {
    let said = ''
    running.stdout.on('data', (text) => {
      said += text
      const at = said.match(/http:\S+/)
      if (at) found(at[0])
    })
    running.stderr.on('data', (text) => (said += text))
    running.on('exit', () => failed(new Error(`it ended: ${said}`)))
  })
  const end = () =>
    new Promise((ended) => {
      running.on('exit', ended)
      running.kill('SIGINT')
    })
  return { address, end }
}

const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] })
const looks = await browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: 'reduce' })
const page = await looks.newPage()
page.setDefaultTimeout(20_000)
const complaints = []
page.on('pageerror', (fault) => complaints.push(fault.message))
page.on('console', (said) => {
  // events break off when the program ends
  const meant = /status of (404|409|412|422)|ERR_INCOMPLETE_CHUNKED|ERR_CONNECTION_REFUSED/
  if (said.type() === 'error' && !meant.test(said.text())) complaints.push(said.text())
})
// what the page's programs and looks weigh, compressed: the first load, and what 3-D brings after it
const weights = new Map()
page.on('response', async (answer) => {
  const name = new URL(answer.url()).pathname.split('/').pop() ?? ''
  if (!/\.(js|css)$/.test(name) || weights.has(name)) return
  weights.set(name, 0)
  const body = await answer.body().catch(() => null)
  if (body) weights.set(name, gzipSync(body).length)
  else weights.delete(name)
})
page.on('response', (answer) => {
  if (answer.status() === 404) complaints.push(`there is no ${answer.url().slice(60)}`)
})

async function judged(what) {
  await page.evaluate(axe)
  const found = await page.evaluate(async () => {
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']
    const { violations } = await window.axe.run(document, { runOnly: { type: 'tag', values: tags } })
    return violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html.slice(0, 140)).slice(0, 3).join(' | ')}`)
  })
  assert.deepEqual(found, [], `${what}: axe found something`)
}

const note = page.locator('.change')
const typed = async (text) => {
  await page.locator('.typing input').last().fill(text)
  await page.locator('.typing input').last().press('Enter')
}
let done = 0
const step = (what) => console.log(`  ${++done} ${what}`)

let server = await serve()
try {
  await page.goto(server.address)
  await page.getByRole('heading', { name: 'dryfit' }).waitFor()
  step('starts with nothing open')
  await page.getByRole('button', { name: /Potting room/ }).waitFor()
  await judged('start')

  // (a) from nothing: a room of five corners, one wall misread
  await page.getByLabel('What do you call it?').fill('Back porch')
  await page.getByRole('button', { name: 'Start at the first corner' }).click()
  await page.getByRole('heading', { name: 'Stand in any corner' }).waitFor()
  for (const [text, next] of [['120', 'B'], ['96', 'C'], ['84', 'D'], ['50 7/8', 'E']]) {
    await typed(text)
    await page.getByRole('heading', { name: `You are at ${next}` }).waitFor()
  }
  await page.getByLabel('it leads back to A').check()
  await typed('60')
  await page.getByRole('heading', { name: 'A further reading' }).waitFor()
  step('walks round five corners')
  const across = async (kind, from, to, text) => {
    await page.locator('.reading select').nth(0).selectOption(kind)
    await page.locator('.reading select').nth(1).selectOption(from)
    await page.locator('.reading select').nth(2).selectOption(to)
    const before = await page.locator('.readings tbody tr').count()
    await typed(text)
    await page.locator('.readings tbody tr').nth(before).waitFor()
  }
  // corners at (0,0) (120,0) (120,96) (36,96) (0,60): diagonals to the nearest sixteenth, but one wall was misread
  await across('diagonal', 'A', 'C', '153 11/16')
  await across('diagonal', 'B', 'D', '127 9/16')
  await across('diagonal', 'A', 'D', '102 1/2')
  await across('diagonal', 'B', 'E', '134 3/16')
  await across('diagonal', 'C', 'E', '125 1/4')
  await page.locator('.main svg').waitFor()
  step('the outline appears, and its diagonals')
  await page.getByRole('button', { name: /reading r1, 120, press to type/ }).click()
  await typed('126')
  await page.locator('.readings .bad').first().waitFor()
  await page.locator('.findings .stop, .findings .look').first().waitFor()
  step('a misread wall is told')
  await page.keyboard.press('Control+z')
  await page.locator('.readings .bad').first().waitFor({ state: 'detached' })
  step('it is put right by taking it back')

  // a U of units, by pointer and by keyboard
  await page.getByRole('link', { name: /Layout/ }).click()
  const place = async (wall, name) => {
    await page.getByRole('link', { name: wall, exact: true }).click()
    await page.locator(`.views [aria-current]`, { hasText: wall }).waitFor()
    await page.getByRole('button', { name: 'What stands here?' }).first().click()
    await page.locator('.offer', { has: page.locator('b', { hasText: new RegExp(`^${name}$`) }) }).click()
    await note.waitFor()
  }
  await place('A–B', 'Drawers')
  await page.locator('[data-about="b1.width"]').waitFor()
  await place('A–B', 'Cupboard')
  await page.locator('[data-about="b2.width"]').waitFor()
  await place('B–C', 'Cupboard')
  await page.locator('[data-about="b3.width"]').waitFor()
  step('units stand along two walls')
  await page.getByRole('link', { name: 'A–B', exact: true }).click()
  const width = page.locator('[data-about="b1.width"]')
  await width.focus()
  await width.press('Alt+ArrowRight')
  await page.getByText('make b1 18 1/16 in wide').first().waitFor()
  step('Alt and an arrow make a unit one mark wider')
  await page.locator('[data-about="b1.width"]').focus()
  await page.keyboard.press('2')
  await page.keyboard.type('0 1/2')
  await page.locator('.over input').press('Enter')
  await page.getByText('make b1 20 1/2 in wide').first().waitFor()
  assert.match(await note.innerText(), /b1[\s\S]*18 1\/16[\s\S]*20 1\/2[\s\S]*parts? changed/)
  step('a given number is typed in place, and the note says before and after')
  await page.locator('[data-about="b1.width"]').focus()
  await page.keyboard.press('2')
  await page.keyboard.type('4 1/7')
  await page.locator('.over input').press('Enter')
  await page.locator('.over .fault').waitFor()
  await page.keyboard.press('Escape')
  step('what does not read says what would do, and changes nothing')
  await page.getByRole('button', { name: 'Take it back' }).click()
  await page.getByText('taken back: make b1 20 1/2 in wide').first().waitFor()
  step('it is taken back')
  await page.locator('[data-about="b1.height"]').click()
  await page.locator('.slip table').waitFor()
  assert.ok((await page.locator('.slip tr').count()) > 1, 'a reason has lines')
  await judged('a slip')
  await page.keyboard.press('Escape')
  await page.locator('.slip').waitFor({ state: 'detached' })
  step('a number that follows unfolds its reason, and Esc puts it away')
  await page.locator('.order .word').first().click()
  await page.getByRole('button', { name: 'right →' }).click()
  await page.getByText('move b1 to the right').first().waitFor()
  step('a unit changes places')

  // the packet
  await page.getByRole('link', { name: /Packet/ }).first().click()
  const [packet] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'Take the packet' }).click()])
  const pdf = join(folder, 'packet.pdf')
  await packet.saveAs(pdf)
  assert.ok(readFileSync(pdf).subarray(0, 5).toString() === '%PDF-' && statSync(pdf).size > 10_000)
  step('the packet is taken')

  // closed, opened again, undone
  const stood = await page.locator('.register .small').first().innerText()
  await server.end()
  server = await serve('back-porch.dryfit')
  await page.goto(`${server.address}#/layout`)
  await page.getByText(stood.split(',')[0]).waitFor()
  await page.getByRole('button', { name: /Undo/ }).click()
  await page.getByText(/taken back:/).first().waitFor()
  step('closed and opened again, it stands where it stood, and undo still works')
  await page.getByRole('link', { name: /History/ }).click()
  await page.getByRole('button', { name: 'look at edit 5' }).click()
  await page.getByText('You are looking at edit 5').waitFor()
  await page.getByRole('button', { name: 'Return to now' }).click()
  step('a moment of the history is looked at')

  // a remedy, in a room made of mistakes
  await page.goto(`${server.address}#/start`)
  await page.getByRole('button', { name: /Troubled room/ }).click()
  await page.locator('.main svg').first().waitFor()
  await page.evaluate(() => (location.hash = '#/dry-fit'))
  await page.locator('.findings li.stop').first().waitFor()
  const before = await page.locator('.register .small').first().innerText()
  const heads = page.locator('.findings li.stop [data-finding]')
  for (let i = 0; i < (await heads.count()); i += 1) {
    await heads.nth(i).click()
    if (await page.locator('.repair').first().isVisible()) break
    await heads.nth(i).click()
  }
  await page.locator('.repair').first().click()
  await page.waitForFunction((before) => document.querySelector('.register .small')?.textContent !== before, before)
  await note.waitFor()
  await page.keyboard.press('Control+z')
  await page.getByText(/taken back:/).first().waitFor()
  step('a remedy is taken by one press and undone by another')

  // every page, wide and narrow, light and dark
  await page.goto(`${server.address}#/start`)
  await page.getByRole('button', { name: /Potting room/ }).click()
  await page.locator('.main svg').first().waitFor()
  const pages = await page.locator('.register li a').evaluateAll((all) => all.map((one) => one.getAttribute('href')))
  assert.equal(pages.length, 12)
  for (const [width, height, colours] of [[1440, 900, 'light'], [1440, 900, 'dark'], [1024, 768, 'light'], [390, 844, 'dark']]) {
    await page.setViewportSize({ width, height })
    await page.emulateMedia({ colorScheme: colours })
    for (const at of pages) {
      await page.evaluate((at) => (location.hash = at), at)
      await page.locator('h1').waitFor()
      await page.waitForTimeout(600)
      await judged(`${at} at ${width}, ${colours}`)
      const past = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
      assert.ok(past <= 0, `${at} at ${width} is ${past} px too wide`)
      if (pictures) await page.screenshot({ path: join(pictures, `${at.replace(/[#/]/g, '')}-${width}-${colours}.png`) })
    }
  }
  step('no page breaks WCAG 2.2 AA or is wider than its window')

  // a receipt: one that does not read says so, one that does is in the sums
  await page.setViewportSize({ width: 1440, height: 900 })
  await page.evaluate(() => (location.hash = '#/costs'))
  await page.getByRole('heading', { name: 'Enter a receipt' }).waitFor()
  await page.getByLabel('cost together').fill('17.40')
  await page.getByRole('button', { name: 'Enter it' }).click()
  await page.getByRole('alert').filter({ hasText: 'say the day on the receipt' }).waitFor()
  await page.getByLabel('day').fill('2026-03-20')
  await page.getByLabel('good').selectOption({ label: 'wood glue, 16 oz' })
  await page.getByLabel('paid in all').fill('17.40')
  const paid = page.getByRole('row', { name: /^All materials/ }).getByRole('cell').nth(2)
  const was = await paid.innerText()
  await page.getByRole('button', { name: 'Enter it' }).click()
  await page.getByText(/receipt c\d+ of 2026-03-20/).first().waitFor()
  await page.waitForFunction((was) => ![...document.querySelectorAll('td')].some((cell) => cell.innerText === was), was)
  assert.equal((await paid.innerText()).replace('.', '') - was.replace('.', ''), 1740)
  if (pictures) await page.screenshot({ path: join(pictures, 'receipt.png') })
  await page.evaluate(() => document.activeElement?.blur())
  await page.keyboard.press('Control+z')
  await page.waitForFunction((was) => [...document.querySelectorAll('td')].some((cell) => cell.innerText === was), was)
  step('a receipt is entered and is in the sums, and is taken back')

  // its budget: 80 KB for the first load, fonts apart, and 180 KB for 3-D
  const kilobytes = ([, bytes]) => bytes / 1024
  const [solid, plain] = [true, false].map((of3d) =>
    [...weights].filter(([name]) => /three|room3d/i.test(name) === of3d).map(kilobytes).reduce((a, b) => a + b, 0),
  )
  console.log(`  first load ${plain.toFixed(1)} KB, 3-D ${solid.toFixed(1)} KB, compressed`)
  assert.ok(plain > 5 && plain < 80, `the first load is ${plain} KB`)
  assert.ok(solid > 20 && solid < 180, `3-D is ${solid} KB`)
  step('the page is as light as it should be')

  // what an edit costs, against one that changes nothing
  await page.setViewportSize({ width: 1440, height: 900 })
  await page.evaluate(() => (location.hash = '#/layout/AB'))
  await page.locator('[data-about="b1.width"]').waitFor()
  // against one that cuts nothing anew: another name for the job. Each until its page is drawn again.
  const edit = (wish) =>
    page.evaluate(async (wish) => {
      const frame = await (await fetch('./api/frame')).json()
      const began = performance.now()
      const headers = { 'Content-Type': 'application/json', 'If-Match': `"${frame.tag}"` }
      const said = await fetch('./api/edits', { method: 'POST', headers, body: JSON.stringify(wish) })
      if (!said.ok) throw new Error(await said.text())
      const drawn = document.querySelector('.main svg')?.firstChild
      while (document.querySelector('.main svg')?.firstChild === drawn && performance.now() - began < 20_000) {
        const moment = (await said.clone().json()).frame.moment
        if (document.querySelector('.register .small')?.textContent?.startsWith(`edit ${moment},`)) break
        await new Promise(requestAnimationFrame)
      }
      return performance.now() - began
    }, wish)
  const given = (at, text) => ({ given: { at, text } })
  await edit(given('/name', 'Another room'))
  const [empty, real] = [await edit(given('/name', 'A third room')), await edit(given('/units/b1/width/given', '23 15/16'))]
  console.log(`  from edit to redrawn page: ${(real / empty).toFixed(2)} times one that cuts nothing anew`)
  assert.deepEqual(complaints, [], 'the browser complained')
  console.log(`${done} steps of the page passed`)
} catch (fault) {
  if (pictures) await page.screenshot({ path: join(pictures, 'where-it-failed.png') })
  console.error(complaints.join('\n'))
  throw fault
} finally {
  await browser.close()
  await server.end()
  rmSync(folder, { recursive: true, force: true })
}
