// How far a batch of packs has come, told while one waits. Without this, the page says it when it is looked at again.
(() => {
  "use strict";

  const MILLISECONDS_BETWEEN = 1000;
  const place = document.querySelector(".making");
  if (!place) return;

  async function tell() {
    const told = await fetch(place.dataset.live).then((answer) => answer.json()).catch(() => null);
    if (told?.finished) {
      location.reload();
      return;
    }
    if (told) {
      place.querySelector("progress").value = told.done;
      place.querySelector("[role=status]").textContent = `${told.done} of ${told.of} packs`;
    }
    setTimeout(tell, MILLISECONDS_BETWEEN);
  }

  setTimeout(tell, MILLISECONDS_BETWEEN);
})();
