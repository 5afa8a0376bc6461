// Files: drop them, see how far it has come, and mend without losing the place. Without this, the same forms just send.
(() => {
  "use strict";

  const MILLISECONDS_BETWEEN = 400;
  const NOT_ARRIVED = "This did not arrive: there is no connection, or it took too long. What you entered is still here.";

  document.querySelectorAll(".with-script").forEach((element) => element.classList.add("works"));

  async function tell(form, isOver) {
    const place = form.querySelector(".progress");
    const started = Date.now();
    while (!isOver() && place) {
      await new Promise((resolve) => setTimeout(resolve, MILLISECONDS_BETWEEN));
      if (isOver()) return;
      const told = await fetch(form.dataset.live).then((answer) => answer.json()).catch(() => ({}));
      if (isOver()) return;
      const seconds = Math.round((Date.now() - started) / 1000);
      place.textContent = told.what ? `${told.count.toLocaleString("en-GB")} ${told.what}` : `working, ${seconds} s`;
    }
  }

  // The page that came back in the place of this one, with the cursor in the next field that needs a hand.
  function show(text, address) {
    const page = new DOMParser().parseFromString(text, "text/html");
    for (const told of document.querySelectorAll(".told")) told.remove();
    const told = page.querySelector(".told");
    if (told) document.getElementById("content").before(told);
    document.getElementById("content").replaceWith(page.getElementById("content"));
    document.title = page.title;
    if (address !== location.href) history.pushState(null, "", address);
    document.querySelectorAll(".with-script").forEach((element) => element.classList.add("works"));
    const next = document.querySelector(".mending [aria-invalid]") ?? document.querySelector(".confirm button");
    (next ?? document.getElementById("content")).focus({ preventScroll: !next });
  }

  async function send(form, submitter) {
    const body = new FormData(form, submitter);
    let over = false;
    form.setAttribute("aria-busy", "true");
    tell(form, () => over);
    try {
      const answer = await fetch(form.action, { method: "POST", body });
      const text = await answer.text();
      over = true;
      if (!text.includes('id="content"')) throw new Error("no page");
      show(text, answer.url);
    } catch {
      over = true;
      form.removeAttribute("aria-busy");
      form.querySelector(".progress").textContent = NOT_ARRIVED;
    }
  }

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.dataset.live || !form.querySelector(".progress")) return;
    event.preventDefault();
    if (form.getAttribute("aria-busy") !== "true") send(form, event.submitter);
  });

  addEventListener("popstate", () => location.reload());

  const zoneOf = (event) => event.target.closest?.(".drop");

  for (const name of ["dragenter", "dragover"]) {
    document.addEventListener(name, (event) => {
      const zone = zoneOf(event);
      if (!zone) return;
      event.preventDefault();
      zone.classList.add("over");
    });
  }

  document.addEventListener("dragleave", (event) => zoneOf(event)?.classList.remove("over"));

  document.addEventListener("drop", (event) => {
    const zone = zoneOf(event);
    if (!zone) return;
    event.preventDefault();
    zone.classList.remove("over");
    zone.elements.files.files = event.dataTransfer.files;
    zone.requestSubmit();
  });
})();
