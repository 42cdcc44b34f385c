"use strict";
/* The list of what is done: copied, shared, saved as tables, taken in again. */

function startOutward({ plan, ticks, chosen }) {
  const box = document.querySelector(".outward");
  const area = box.querySelector("textarea"), told = box.querySelector("output");
  const say = (words) => { told.textContent = words; };
  const stem = plan.title.normalize("NFKD").replace(/[^\w]+/g, "-").replace(/^-+|-+$/g, "").toLowerCase().slice(0, 40) || "plan";

  /* A file of text to keep; a browser that can't save one still shows it. */
  function save(text, name, missing) {
    if (text === "") return say(missing);
    area.value = text;
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob(["\ufeff", text], { type: "text/csv" }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    say(`${name} goes to the downloads; its text stands above too.`);
  }
  async function copy() {
    area.value = ticks.text();
    try {
      await navigator.clipboard.writeText(area.value);
      say("Copied.");
    } catch { // not allowed here: the older way
      area.select();
      say(document.execCommand("copy") ? "Copied." : "This browser copies nothing by itself: hold the text above and choose copy.");
    }
  }
  const acts = {
    copy,
    share: () => navigator.share({ title: plan.title, text: ticks.text() }).catch(() => say("Nothing was shared; copy the list instead.")),
    levels: () => save(ticks.levels(), `levels-${stem}.csv`, "No level is entered at any stake yet."),
    depths: () => save(ticks.depths(chosen()), `built-${chosen()}-${stem}.csv`, "No depth is entered on this line yet."),
    take: () => say(ticks.take(area.value)),
  };
  for (const button of box.querySelectorAll("[data-out]")) button.addEventListener("click", acts[button.dataset.out]);
  box.querySelector("[data-out=share]").hidden = !("share" in navigator);
  box.addEventListener("toggle", () => { if (box.open) area.value = ticks.text(); });
}
