// For paper: each bout at five times (fewer of each where there are many bouts), drawn by the same code as the replay.
"use strict";

const MOST_STILLS = 10, STILLS_EACH = 5;

for (const panel of panels) {
  const room = document.createElement("div"), each = Math.min(STILLS_EACH, Math.max(1, Math.floor(MOST_STILLS / panels.length)));
  room.className = "stills";
  room.setAttribute("aria-hidden", "true");
  for (let k = 0; k < each; k++) {
    const t = panel.bout.seconds * (k + 0.5) / each, still = document.createElement("figure"), words = document.createElement("figcaption");
    panel.draw(t);
    const drawn = panel.svg.cloneNode(true);
    drawn.removeAttribute("role");
    drawn.setAttribute("class", "still");
    words.textContent = `${clock(t)}  ${panel.count.textContent}`;
    still.append(drawn, words);
    room.append(still);
  }
  panel.root.querySelector(".seen").append(room);
}
draw();
