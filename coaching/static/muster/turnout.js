// Arrow keys through the board: up and down between clients, left and right between weeks; Enter opens the story.
"use strict";

const board = document.querySelector(".board");
const readout = document.querySelector(".readout");

const rows = board ? [...board.querySelectorAll("tbody tr")] : [];
const weekNames = board ? [...board.querySelectorAll("thead [data-week]")].map((head) => head.dataset.week) : [];
const linkOf = (row) => row.querySelector("th a");

// One stop for the tab key, wherever the coach last was.
function makeTabStop(row) {
  for (const one of rows) linkOf(one).tabIndex = one === row ? 0 : -1;
}

function tell(cell) {
  const texts = [...cell.querySelectorAll("title")].map((title) => title.textContent);
  const week = weekNames[cell.cellIndex - 1] ?? weekNames[[...cell.parentElement.children].indexOf(cell) - 1];
  readout.textContent = `${linkOf(cell.parentElement).textContent}, ${week}: ${texts.join("; ") || "nothing planned"}`;
  readout.hidden = false;
}

function isWeek(element) {
  const position = element?.matches?.(".board tbody td") ? [...element.parentElement.children].indexOf(element) : 0;
  return position > 0 && position <= weekNames.length;
}

function focusOn(row, column) {
  const cell = row?.children[column];
  if (!cell) return;
  const target = column === 0 ? linkOf(row) : cell;
  if (column > 0) target.tabIndex = -1;
  makeTabStop(row);
  target.focus();
}

function onKey(event) {
  if (event.altKey || event.ctrlKey || event.metaKey) return;
  const cell = event.target.closest("th, td");
  const row = cell.parentElement;
  const column = [...row.children].indexOf(cell);
  const line = rows.indexOf(row);
  const moves = {
    ArrowDown: () => focusOn(rows[line + 1], column),
    ArrowUp: () => focusOn(rows[line - 1], column),
    ArrowRight: () => column < weekNames.length && focusOn(row, nextShown(row, column, 1)),
    ArrowLeft: () => column > 0 && focusOn(row, nextShown(row, column, -1)),
    Home: () => focusOn(rows[0], column),
    End: () => focusOn(rows[rows.length - 1], column),
    Enter: () => column > 0 && linkOf(row).click(),
  };
  if (!moves[event.key] || (event.key === "Enter" && column === 0)) return;
  event.preventDefault();
  moves[event.key]();
}

// A phone hides the older weeks.
function nextShown(row, column, step) {
  let next = column + step;
  while (next > 0 && row.children[next]?.offsetWidth === 0) next += step;
  return next;
}

if (rows.length) {
  makeTabStop(rows[0]);
  // A narrow screen starts at the latest weeks.
  const frame = document.querySelector(".board-frame");
  frame.scrollLeft = frame.scrollWidth;
  board.tBodies[0].addEventListener("keydown", onKey);
  board.tBodies[0].addEventListener("focusin", (event) => {
    if (isWeek(event.target)) tell(event.target);
    else readout.hidden = true;
  });
  board.tBodies[0].addEventListener("click", (event) => {
    const cell = event.target.closest("td");
    if (isWeek(cell)) focusOn(cell.parentElement, [...cell.parentElement.children].indexOf(cell));
  });
}
