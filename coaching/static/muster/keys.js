// Keys at the desk: arrows (or j and k) from row to row, Enter opens what is behind one, "/" searches.
(() => {
  "use strict";

  const isTyping = (element) => element.matches("input, select, textarea, [contenteditable]");
  const rows = () => [...document.querySelectorAll("[data-row]")].filter((row) => row.offsetParent !== null);

  function move(step) {
    const all = rows();
    if (all.length === 0) return false;
    const here = all.indexOf(document.activeElement.closest("[data-row]"));
    const next = here < 0 ? (step > 0 ? 0 : all.length - 1) : Math.min(Math.max(here + step, 0), all.length - 1);
    all[next].focus();
    all[next].scrollIntoView({ block: "nearest" });
    return true;
  }

  function openEvidence(row) {
    const details = row.querySelector("details");
    if (details) details.open = !details.open;
    else row.querySelector("a")?.click();
  }

  const steps = { ArrowDown: 1, j: 1, ArrowUp: -1, k: -1 };

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return;
    if (event.key === "/") {
      document.getElementById("search")?.focus();
    } else if (event.key === "Enter" && event.target.matches("[data-row]")) {
      openEvidence(event.target);
    } else if (!(event.key in steps) || !move(steps[event.key])) {
      return;
    }
    event.preventDefault();
  });

  // A link to a form inside folded evidence opens it, and puts the cursor where writing starts.
  document.addEventListener("click", (event) => {
    const link = event.target.closest('a[href^="#decide-"]');
    const form = link && document.querySelector(link.hash);
    if (!form) return;
    event.preventDefault();
    form.closest("details").open = true;
    form.scrollIntoView({ block: "nearest" });
    form.elements.until.focus();
  });

  // Escape folds the menu and the evidence again.
  document.addEventListener("keydown", (event) => {
    const open = event.key === "Escape" && event.target.closest("details[open]");
    if (!open) return;
    open.open = false;
    (open.closest("[data-row]") ?? open.querySelector("summary")).focus();
  });
})();
