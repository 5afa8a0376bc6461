// Files: drop them, see how far it has come, and mend without losing the place. Without this, the same forms just send.
(() => {
  "use strict";

  const MILLISECONDS_BETWEEN = 400;
  const SIGNED_OUT = "You are signed out by now. Sign in in another tab, then send again: what you entered is still here.";
  const REFUSED = "This was not taken. What you entered is still here; send it again, or open the page anew.";
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

  // Somebody who signed in again has another token; the page of now knows it.
  async function renewToken(form) {
    const page = new DOMParser().parseFromString(await (await fetch(location.href)).text(), "text/html");
    const token = page.querySelector("#content [name=csrfmiddlewaretoken]");
    if (token) form.elements.csrfmiddlewaretoken.value = token.value;
  }

  async function post(form, submitter) {
    const answer = await fetch(form.action, { method: "POST", body: new FormData(form, submitter) });
    if (answer.status !== 403) return answer;
    await renewToken(form);
    return fetch(form.action, { method: "POST", body: new FormData(form, submitter) });
  }

  // What went wrong, in words; nothing when the answer is the page to show.
  function fault(answer) {
    if (new URL(answer.url).pathname.startsWith("/sign-in/")) return SIGNED_OUT;
    return answer.ok ? "" : REFUSED;
  }

  async function send(form, submitter) {
    let over = false;
    form.setAttribute("aria-busy", "true");
    tell(form, () => over);
    let words = NOT_ARRIVED;
    try {
      const answer = await post(form, submitter);
      words = fault(answer);
      if (!words) show(await answer.text(), answer.url);
    } catch {
      words = NOT_ARRIVED;
    }
    over = true;
    if (!words) return;
    form.removeAttribute("aria-busy");
    form.querySelector(".progress").textContent = words;
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
