import { expect, test } from 'vitest'
import { nearest } from './nearest'

const row = [{ x: 0, y: 0 }, { x: 50, y: 0 }, { x: 100, y: 4 }, { x: 52, y: 80 }]

test('along a row the next one is the nearest', () => {
  expect(nearest({ x: 0, y: 0 }, row, 'ArrowRight')).toBe(1)
  expect(nearest({ x: 50, y: 0 }, row, 'ArrowRight')).toBe(2)
  expect(nearest({ x: 50, y: 0 }, row, 'ArrowLeft')).toBe(0)
})

test('what lies aside is passed over for what lies ahead', () => {
  expect(nearest({ x: 50, y: 0 }, row, 'ArrowDown')).toBe(3)
  expect(nearest({ x: 52, y: 80 }, row, 'ArrowUp')).toBe(1)
})

test('at the end, and for other keys, there is none', () => {
  expect(nearest({ x: 0, y: 0 }, row, 'ArrowLeft')).toBe(-1)
  expect(nearest({ x: 0, y: 0 }, row, 'Enter')).toBe(-1)
})
