// Filters and play; without this script the page says the same, all at once.
"use strict";
const findings = [...document.querySelectorAll(".finding")];
const form = document.querySelector("form");
const told = document.querySelector("#told");

function fill(select, key) {
  const values = [...new Set(findings.map((finding) => finding.dataset[key]))].sort();
  for (const value of values) {
    const option = document.createElement("option");
    option.value = value;
    option.textContent = value === "" ? "(none)" : value;
    select.append(option);
  }
  select.closest("label").hidden = values.length < 2;
}

function filter() {
  const wanted = [...form.querySelectorAll("select")].map((select) => [select.name, select.selectedIndex, select.value]);
  let shown = 0;
  for (const finding of findings) {
    finding.hidden = wanted.some(([key, index, value]) => index > 0 && finding.dataset[key] !== value);
    shown += finding.hidden ? 0 : 1;
  }
  for (const group of document.querySelectorAll(".group")) {
    group.hidden = group.querySelector(".finding:not([hidden])") === null;
  }
  told.textContent = shown === findings.length ? "" : shown + " of " + findings.length + " findings shown";
}

if (form && findings.length > 0) {
  for (const select of form.querySelectorAll("select")) {
    fill(select, select.name);
    select.addEventListener("change", filter);
  }
  form.querySelector("button").addEventListener("click", () => { form.reset(); filter(); });
  form.hidden = false;
}

// Puts the men of one position on a board: "K4g1 p..." is a symbol's name and a square, counted from a8.
function place(board, men) {
  board.replaceChildren();
  for (const man of men.split(" ")) {
    if (man === "") continue;
    const use = document.createElementNS("http://www.w3.org/2000/svg", "use");
    const square = Number(man.slice(2));
    use.setAttribute("href", "#" + man.slice(0, 2));
    use.setAttribute("x", String(100 * (square % 8)));
    use.setAttribute("y", String(100 * Math.floor(square / 8)));
    use.setAttribute("width", "100");
    use.setAttribute("height", "100");
    board.append(use);
  }
}

for (const steps of document.querySelectorAll(".steps")) {
  const plies = steps.dataset.plies.split("|");
  const finding = steps.closest(".finding");
  const board = finding.querySelector(".men");
  const drawn = finding.querySelector(".drawing");
  const [back, on] = steps.querySelectorAll("button");
  const at = steps.querySelector("output");
  let ply = 0;
  const show = () => {
    place(board, plies[ply].split(":")[1]);
    drawn.toggleAttribute("hidden", ply > 0);
    at.textContent = plies[ply].split(":")[0];
    back.disabled = ply === 0;
    on.disabled = ply === plies.length - 1;
  };
  back.addEventListener("click", () => { ply = Math.max(ply - 1, 0); show(); });
  on.addEventListener("click", () => { ply = Math.min(ply + 1, plies.length - 1); show(); });
  back.disabled = true;
  steps.hidden = false;
}
