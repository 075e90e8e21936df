import { expect, test } from "vitest";
import { nearest } from "./nearest";

const spots = [
  { x: 0, y: 0 },
  { x: 100, y: 0 },
  { x: 40, y: 60 },
  { x: 0, y: 100 },
];

test("an arrow goes to what lies that way, straying as little as can be", () => {
  expect(nearest(spots, 0, "ArrowRight")).toBe(1);
  expect(nearest(spots, 0, "ArrowDown")).toBe(3);
  expect(nearest(spots, 2, "ArrowUp")).toBe(0);
});

test("an arrow with nothing that way goes nowhere", () => {
  expect(nearest(spots, 0, "ArrowLeft")).toBeNull();
  expect(nearest([], 0, "ArrowLeft")).toBeNull();
});
