// Looks at a page as a user of it would: what axe finds serious, and what is clipped, too small or lies over something.

async function faults(rules) {
  const found = await axe.run(document, { resultTypes: ["violations"], runOnly: rules });
  const serious = found.violations.filter((one) => ["serious", "critical"].includes(one.impact));
  return serious.flatMap((one) => one.nodes.map((node) =>
    `${one.id}: ${node.html.slice(0, 120)} ${node.failureSummary.replace(/\s+/g, " ").slice(0, 200)}`));
}

function clumsy() {
  const wide = document.documentElement.scrollWidth;
  return [...(wide > innerWidth ? [`the page is ${wide} px wide`] : []), ...small(), ...over(), ...cut()];
}

const named = (node) => {
  const words = node.id || node.getAttribute("aria-label") || node.textContent.trim().slice(0, 30);
  return `${node.tagName.toLowerCase()} ${words}`;
};

function handled() {
  const all = [...document.querySelectorAll("button, select, input, summary, textarea, a")];
  return all.filter((node) => node.checkVisibility() && !node.closest(".unseen, .skip"));
}

// A finger wants 44 px; a box to tick has its label to be touched at.
function small() {
  return handled().filter((node) => node.tagName !== "A").flatMap((node) => {
    const target = ["checkbox", "radio"].includes(node.type) ? node.closest("label") : node;
    const high = target.getBoundingClientRect().height;
    return high < 43.5 ? [`${named(node)} is ${high.toFixed(0)} px high`] : [];
  });
}

// Of those that scroll together, none may lie over another.
function over() {
  const pane = (node) => node.closest(".answers, .foot, header, .held-strip, .places, .tolds");
  const all = handled().filter((node) => node.tagName !== "SUMMARY").map((node) => [node, node.getBoundingClientRect()]);
  return all.flatMap(([one, a], index) => all.slice(index + 1).flatMap(([other, b]) => {
    const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
    const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
    return pane(one) === pane(other) && across > 1 && down > 1 ? [`${named(one)} lies over ${named(other)}`] : [];
  }));
}

function cut() {
  const words = ".answers :is(.sentence, th, td, p, li), h1, .kept, .held-name, button";
  return [...document.querySelectorAll(words)].filter((node) => node.checkVisibility() &&
    node.scrollWidth > node.clientWidth + 1 && getComputedStyle(node).display !== "inline")
    .map((node) => `${named(node)} is cut off`);
}
