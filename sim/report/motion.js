// Where players and the ball are at a moment: the closed forms of the log, evaluated.  No drawing, no page.
//
// A row is [t0, x, y, vx, vy, ax, ay, rate]; it holds until the next one begins.  s seconds after t0 the acceleration is
// a exp(-rate s), so with g1 = (1 - exp(-rate s)) / rate and g2 = (s - g1) / rate (limits s and s*s/2) the velocity is
// v + a g1 and the place x + v s + a g2.
// A row of the ball is the same, or [t0, player] while a player has it.
"use strict";

const T0 = 0;

function growth(rate, s) {
  const z = rate * s;
  if (z < 1e-5) return [s * (1 - 0.5 * z), 0.5 * s * s * (1 - z / 3)];
  const g1 = -Math.expm1(-z) / rate;
  return [g1, (s - g1) / rate];
}

function stateOn(row, t) {
  const [t0, x, y, vx, vy, ax, ay, rate] = row;
  const s = Math.max(0, t - t0);
  const [g1, g2] = growth(rate, s);
  return [x + vx * s + ax * g2, y + vy * s + ay * g2, vx + ax * g1, vy + ay * g1];
}

// The place, in rows in order of time, of the row in force at t.
function placeAt(rows, t) {
  let low = 0, high = rows.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (rows[middle][T0] <= t) low = middle; else high = middle - 1;
  }
  return low;
}

function playerAt(bout, i, t) {
  const rows = bout.paths[i];
  return stateOn(rows[placeAt(rows, t)], t);
}

// {x, y, holder, inPlay}; holder -1: nobody.
function ballAt(bout, t) {
  const place = placeAt(bout.ball, t), row = bout.ball[place], inPlay = bout.inPlay[place];
  if (row.length === 2) {
    const [x, y] = playerAt(bout, row[1], t);
    return {x, y, holder: row[1], inPlay};
  }
  const [x, y] = stateOn(row, t);
  return {x, y, holder: -1, inPlay};
}

const NODES = [-0.9061798459386640, -0.5384693101056831, 0, 0.5384693101056831, 0.9061798459386640];
const WEIGHTS = [0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891];

// Metres run on one row from its beginning to t: speed summed up by Gauss's rule at five places.
function metresOn(row, t) {
  const half = 0.5 * (t - row[T0]);
  if (half <= 0) return 0;
  let sum = 0;
  for (let k = 0; k < 5; k++) {
    const [, , vx, vy] = stateOn(row, row[T0] + half * (1 + NODES[k]));
    sum += WEIGHTS[k] * Math.hypot(vx, vy);
  }
  return half * sum;
}

function metresAt(bout, i, t) {
  const rows = bout.paths[i], place = placeAt(rows, t);
  return bout.run[i][place] + metresOn(rows[place], t);
}

// The last entry of a list of [t, ...] at or before t (null before the first).
function latest(list, t) {
  if (!list.length || list[0][0] > t) return null;
  return list[placeAt(list, t)];
}

if (typeof module !== "undefined") module.exports = {growth, stateOn, placeAt, playerAt, ballAt, metresOn, metresAt, latest};
