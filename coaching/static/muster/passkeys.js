// Offers passkeys where the browser knows them, and says in words when one was not used.
(() => {
  const says = {
    NotAllowedError: "No passkey was used: it was cancelled, took too long, or there is none for this address.",
    InvalidStateError: "This device or key is in your account already.",
    SecurityError: "A passkey belongs to a name with HTTPS, or to localhost: open this page under such an address.",
  };

  // Once the buttons do something, and not before: the package's own scripts wait for this event too, and come first.
  document.addEventListener("DOMContentLoaded", () => {
    if (!window.PublicKeyCredential) return;
    document.querySelectorAll("[data-needs-script]").forEach((part) => {
      part.hidden = false;
      part.disabled = false;
    });
  });

  document.addEventListener("allauth.error", (event) => {
    event.preventDefault();
    const fault = document.querySelector("[data-passkey-fault]");
    fault.textContent = says[event.detail.exception.name] || "The passkey could not be used. Try again.";
    fault.hidden = false;
  });
})();
