// Draws what motion.js says, and lets people move in time.  One clock for all bouts of the page.
"use strict";

const DATA = JSON.parse(document.getElementById("bouts").textContent);
const WORDS = DATA.words;
const SVG = "http://www.w3.org/2000/svg";
const STEP = 1, JUMP = 5, BEFORE = 2;
const LONGEST_FRAME = 0.5;  // seconds: whoever comes back to a page that was hidden finds it where he left it
const MARK = 10;  // half the width of a mark in a list, in its own units
const FEW = 14;  // players who have room for large marks
const CALM = matchMedia("(prefers-reduced-motion: reduce)");  // then one picture a second, as the page says

function make(name, attributes, parent, text) {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes || {})) one.setAttribute(key, value);
  if (text !== undefined) one.textContent = text;
  if (parent) parent.appendChild(one);
  return one;
}

function clock(t) {
  const whole = Math.floor(t + 1e-6);
  return Math.floor(whole / 60) + ":" + String(whole % 60).padStart(2, "0");
}

// A closed outline of about the same area for every shape, round the origin.
function outline(shape, r) {
  const corners = {square: [4, Math.PI / 4, 1.2], triangle: [3, Math.PI / 2, 1.35], diamond: [4, 0, 1.3],
    hexagon: [6, 0, 1.1], pentagon: [5, Math.PI / 2, 1.15], octagon: [8, Math.PI / 8, 1.05]}[shape];
  if (!corners) return `M${-r} 0A${r} ${r} 0 1 1 ${r} 0A${r} ${r} 0 1 1 ${-r} 0Z`;
  const [n, turn, grow] = corners, points = [];
  for (let k = 0; k < n; k++) {
    const angle = turn + 2 * Math.PI * k / n;
    points.push(`${(r * grow * Math.cos(angle)).toFixed(3)} ${(-r * grow * Math.sin(angle)).toFixed(3)}`);
  }
  return "M" + points.join("L") + "Z";
}

// A look on one player or in a list: the bib as it is drawn in the diagram.
function dress(body, group, [shape, fill, onIt, rim], r) {
  body.setAttribute("d", outline(shape, r));
  group.style.setProperty("--fill", fill);
  group.style.setProperty("--on-it", onIt);
  if (!rim) return;
  group.style.setProperty("--rim", rim);
  group.style.setProperty("--rim-wide", "4px");
}

// How large the letters of a badge are, in radii of its mark.
function lettering(badge) {
  return [1.05, 1.05, 0.85, 0.68][badge.length - 1];
}

function mark(svg, look, badge) {
  svg.setAttribute("viewBox", `${-1.4 * MARK} ${-1.4 * MARK} ${2.8 * MARK} ${2.8 * MARK}`);
  svg.replaceChildren();
  dress(make("path", {class: "body"}, svg), svg, look, MARK);
  if (badge) make("text", {y: 0.36 * MARK, class: "number"}, svg, badge).style.fontSize = `${lettering(badge) * MARK}px`;
}

function write(one, text) {
  if (one.textContent !== text) one.textContent = text;
}

// A box with so much around it, as SVG has it.
function around([w, s, e, n], out) {
  return {x: w - out, y: -n - out, width: e - w + 2 * out, height: n - s + 2 * out};
}

class Panel {
  constructor(bout, root) {
    this.bout = bout;
    this.root = root;
    this.svg = root.querySelector(".pitch");
    const [west, south, east, north] = bout.ground.box;
    const across = Math.max(east - west, north - south);
    const least = Math.min(...bout.ground.areas.flatMap(({box: [w, s, e, n]}) => [e - w, n - s]));
    const fair = (bout.players.length > FEW ? 0.022 : 0.0275) * across;
    this.r = Math.max(Math.min(fair, Math.max(least / 10, 0.012 * across)), 0.45);  // small ground far off: smaller marks
    const rim = 2 * this.r;
    this.letters = Math.max(0.6 * rim, 0.03 * (east - west));
    const out = rim + this.letters;
    this.svg.setAttribute("viewBox", `${west - out} ${-north - out} ${east - west + 2 * out} ${north - south + 2 * out + 0.8 * rim}`);
    this.drawGround(west, south, east, north, rim);
    this.drawPlayers();
    this.rows = bout.players.map((_, i) => root.querySelector(`[data-row="${i}"]`));
    root.querySelectorAll(".sides .mark").forEach((svg, k) => mark(svg, bout.key[k][1]));
    this.events = [...root.querySelectorAll(".happened li")];
    this.count = root.querySelector(".count");
    this.lost = root.querySelector(".lost");
    this.has = root.querySelector(".has");
    this.when = root.querySelector(".when");
    this.head = root.querySelector(".head");
    this.current = -1;
    this.events.forEach((one, k) => one.firstElementChild.addEventListener("click", () => seek(bout.told[k][0])));
    if (this.events.length) this.events[0].firstElementChild.tabIndex = 0;  // one stop of the tab key; arrows go up and down
    root.querySelector(".happened").addEventListener("keydown", event => {
      const way = {ArrowUp: -1, ArrowDown: 1}[event.key], from = this.events.indexOf(event.target.parentElement);
      const to = this.events[from + way];
      if (!to || event.ctrlKey || event.altKey || event.metaKey) return;
      event.preventDefault();
      seek(bout.told[from + way][0], from + way);
      to.firstElementChild.focus();
    });
    const strip = root.querySelector(".strip");
    strip.addEventListener("click", event => {
      const box = root.querySelector(".lane").getBoundingClientRect();
      seek((event.clientX - box.left) / box.width * bout.seconds);
    });
  }

  drawGround(west, south, east, north, rim) {
    const line = {class: "line"};
    this.changing = [];  // areas that are marked out anew, and what is drawn of them
    make("rect", {x: west, y: -north, width: east - west, height: north - south, class: "grass"}, this.svg);
    for (const area of this.bout.ground.areas) {
      const out = area.runOff, drawn = [];
      if (out) {
        const band = make("rect", {class: "run-off", ...around(area.box, out), "data-run-off": area.name}, this.svg);
        make("title", {}, band, WORDS["run-off"]);
        drawn.push([band, out]);
      }
      drawn.push([make("rect", {...around(area.box, 0), "data-area": area.name, ...line}, this.svg), 0]);
      if (area.marked) this.changing.push({marked: area.marked, box: area.box, drawn});
    }
    for (const [w, s, e, n] of this.bout.ground.zones) {
      make("rect", {x: w, y: -n, width: e - w, height: n - s, "data-zone": "", class: "zone"}, this.svg);
    }
    for (const [x, y] of this.bout.ground.cones) {
      make("circle", {cx: x, cy: -y, r: 0.4 * this.r, class: "goal", "data-cone": ""}, this.svg);
    }
    for (const goal of this.bout.ground.goals) {
      const across = goal.end === "west" || goal.end === "east", depth = this.r;
      const out = goal.end === "west" || goal.end === "south" ? -1 : 1;
      const x = across ? Math.min(goal.x, goal.x + out * depth) : goal.x - goal.width / 2;
      const y = across ? -goal.y - goal.width / 2 : Math.min(-goal.y, -goal.y - out * depth);
      make("rect", {x, y, width: across ? depth : goal.width, height: across ? goal.width : depth, class: "goal"}, this.svg);
    }
    const long = [1, 2, 5, 10, 20].filter(one => one <= (east - west) / 3).pop() || 1, y = -south + 1.3 * rim;
    make("path", {d: `M${west} ${y - 0.2 * rim}V${y}H${west + long}V${y - 0.2 * rim}`, class: "bar"}, this.svg);
    const words = make("text", {x: west + long + 0.3 * rim, y, class: "small"}, this.svg, `${long} m`);
    words.style.fontSize = `${Math.max(0.6 * rim, 0.033 * (east - west))}px`;
    this.nameEdges(west, south, east, north, rim);
  }

  // The words of the ground at the edges, as in the diagram and in all that is told.
  nameEdges(west, south, east, north, rim) {
    const across = (west + east) / 2, up = -(south + north) / 2, off = 0.6 * rim, below = off + 0.75 * this.letters;
    const places = {west: [west - off, up, -90], east: [east + below, up, -90],
      north: [across, -north - off, 0], south: [across, -south + below, 0]};
    for (const [edge, [x, y, turn]] of Object.entries(places)) {
      const one = make("text", {class: "edge", transform: `translate(${x} ${y}) rotate(${turn})`}, this.svg,
        this.bout.ground.edges[edge]);
      one.style.fontSize = `${this.letters}px`;
    }
  }

  drawPlayers() {
    const r = this.r;
    this.players = this.bout.players.map((one, i) => {
      const group = make("g", {class: "player", "data-player": i}, this.svg);
      make("title", {}, group, one.name);
      const body = make("path", {class: "body"}, group);
      if (one.keeps) make("path", {d: `M${-1.15 * r} ${-1.5 * r}H${1.15 * r}`, class: "keeper"}, group);
      const text = make("text", {y: 0.36 * r, class: "number"}, group, one.badge);
      text.style.fontSize = `${lettering(one.badge) * r}px`;
      return {group, body, side: null};
    });
    this.ring = make("circle", {r: 1.5 * r, class: "ring"}, this.svg);
    this.ball = make("circle", {r: 0.36 * r, class: "ball"}, this.svg);
  }

  at(t) {
    return Math.min(t, this.bout.seconds);
  }

  // Areas as they are marked out at time t.
  markOut(t) {
    for (const area of this.changing) {
      const [, box] = latest(area.marked, t) || area.marked[0];
      if (box === area.box) continue;
      area.box = box;
      for (const [rect, out] of area.drawn) {
        for (const [name, value] of Object.entries(around(box, out))) rect.setAttribute(name, value);
      }
    }
  }

  // `place`: the event to mark where several fall on one moment, else the last of them.
  draw(now, place) {
    const t = this.at(now), bout = this.bout, r = this.r;
    this.markOut(t);
    this.players.forEach((one, i) => {
      const [x, y] = playerAt(bout, i, t);
      one.group.setAttribute("transform", `translate(${x.toFixed(3)} ${(-y).toFixed(3)})`);
      const [, side] = latest(bout.worn[i], t) || bout.worn[i][0];
      if (side !== one.side) {
        const look = bout.players[i].looks[side];
        dress(one.body, one.group, look, r);
        mark(this.rows[i].querySelector(".mark"), look, bout.players[i].badge);
        one.side = side;
      }
    });
    const ball = ballAt(bout, t);
    if (ball.holder !== this.holder) {  // on top of the others
      if (ball.holder >= 0) this.svg.insertBefore(this.players[ball.holder].group, this.ring);
      this.holder = ball.holder;
    }
    const beside = ball.holder < 0 ? 0 : 0.95 * r;  // at his feet: drawn at the rim of his mark
    this.ball.setAttribute("cx", (ball.x + beside).toFixed(3));
    this.ball.setAttribute("cy", (-ball.y + beside).toFixed(3));
    this.ball.classList.toggle("dead", !ball.inPlay);
    this.ring.classList.toggle("off", ball.holder < 0);
    this.ring.setAttribute("cx", ball.x.toFixed(3));
    this.ring.setAttribute("cy", (-ball.y).toFixed(3));
    this.head.style.left = `${100 * t / bout.seconds}%`;
    const count = latest(bout.counts, t);
    write(this.when, clock(t));
    write(this.count, count ? count[1] : "");
    const lost = bout.losses.filter(one => one <= t + 1e-9).length;
    write(this.lost, `${lost} ${WORDS[lost === 1 ? "loss so far" : "losses so far"]}`);
    const spell = latest(bout.spells, t);
    const has = ball.holder >= 0 ? `${bout.players[ball.holder].name} ${WORDS["has it"]}` : WORDS["on its way"];
    write(this.has, !spell ? "" : spell[2] === "held" ? has : WORDS[spell[2]]);
    this.rows.forEach((row, i) => write(row.lastElementChild, metresAt(bout, i, t).toFixed(0)));
    if (place === undefined) place = bout.told.length && bout.told[0][0] <= t ? placeAt(bout.told, t + 1e-9) : -1;
    if (place !== this.current) {
      const before = this.events[Math.max(0, this.current)], after = this.events[Math.max(0, place)];
      before.removeAttribute("aria-current");
      before.firstElementChild.tabIndex = -1;
      after.firstElementChild.tabIndex = 0;
      this.current = place;
      if (place >= 0) {
        const one = this.events[place], list = one.parentElement;
        one.setAttribute("aria-current", "true");
        list.scrollTop = Math.max(0, one.offsetTop - list.clientHeight / 2);
      }
    }
  }
}

const panels = DATA.bouts.map((bout, k) => new Panel(bout, document.querySelectorAll(".bout")[k]));
const END = Math.max(...DATA.bouts.map(bout => bout.seconds));
const button = name => document.getElementById(name);
const slider = button("time"), shown = button("clock"), speed = button("speed"), play = button("play");
let now = 0, playing = false, last = null;

function draw(place) {
  const seen = playing && CALM.matches ? Math.floor(now) : now;
  panels.forEach(panel => panel.draw(seen, place));
  slider.value = seen.toFixed(2);
  const text = `${clock(seen)} ${WORDS.of} ${clock(END)}`;
  if (text === shown.textContent) return;
  shown.textContent = text;
  slider.setAttribute("aria-valuetext", text);
}

function seek(t, place) {
  if (!Number.isFinite(t)) return;
  now = Math.min(Math.max(0, t), END);
  draw(place);
}

function run(on) {
  playing = on;
  last = null;
  if (on && now >= END - 1e-6) now = 0;
  play.textContent = on ? WORDS.pause : WORDS.play;
  if (on) requestAnimationFrame(tick); else draw();
}

function tick(stamp) {
  if (!playing) return;
  if (last !== null) now = Math.min(END, now + Math.min((stamp - last) / 1000, LONGEST_FRAME) * Number(speed.value));
  last = stamp;
  draw();
  if (now >= END) run(false); else requestAnimationFrame(tick);
}

// Two seconds before the next loss of any bout, so that one sees it come about (or, backwards, the one before).
function toLoss(way) {
  const losses = DATA.bouts.flatMap(bout => bout.losses).sort((a, b) => a - b);
  const found = way > 0 ? losses.find(one => one > now + BEFORE + 0.05) : losses.filter(one => one < now + BEFORE - 0.05).pop();
  if (found !== undefined) seek(found - BEFORE);
}

function faster(way) {
  speed.selectedIndex = Math.min(Math.max(0, speed.selectedIndex + way), speed.options.length - 1);
}

play.addEventListener("click", () => run(!playing));
button("back").addEventListener("click", () => seek(now - JUMP));
button("on").addEventListener("click", () => seek(now + JUMP));
button("loss").addEventListener("click", () => toLoss(1));
slider.addEventListener("input", () => seek(Number(slider.value)));

const listening = document.querySelector("[data-keys]") || document;  // of a page with more on it, the part with the replay
listening.addEventListener("keydown", event => {
  if (event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented || event.target.tagName === "SELECT") return;
  const acts = {
    " ": () => run(!playing), ArrowLeft: () => seek(now - (event.shiftKey ? JUMP : STEP)),
    ArrowRight: () => seek(now + (event.shiftKey ? JUMP : STEP)), n: () => toLoss(1), N: () => toLoss(1), b: () => toLoss(-1),
    B: () => toLoss(-1), "+": () => faster(1), "-": () => faster(-1), Home: () => seek(0), End: () => seek(END),
  };
  if (event.key === " " && event.target.tagName === "BUTTON" || !acts[event.key]) return;  // a button does its own
  event.preventDefault();
  acts[event.key]();
});

slider.max = END;
const wanted = /[#&]t=([0-9.]+)/.exec(location.hash);  // replay.html#t=30 opens half a minute in
draw();
if (wanted) seek(Number(wanted[1]));
