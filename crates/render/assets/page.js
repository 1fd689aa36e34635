// Enhancement only: every page works without it.
"use strict";

// A life strip starts with the latest in view, also where the browser forgot.
for (const box of document.querySelectorAll(".wide.latest")) {
  box.scrollLeft = box.scrollWidth;
}

// A form that has been sent is not sent twice by an impatient thumb.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "yes";
});
window.addEventListener("pageshow", () => {
  for (const form of document.forms) delete form.dataset.sent;
});

// A reason that a link names is opened when the link is followed.
const openNamed = () => {
  const named = location.hash && document.getElementById(location.hash.slice(1));
  if (named) for (const details of named.querySelectorAll("details.why")) details.open = true;
};
window.addEventListener("hashchange", openNamed);
openNamed();

// A card is printed by the browser; without script its own menu does it.
for (const button of document.querySelectorAll("[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
