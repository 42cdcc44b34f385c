"use strict";
/* Where am I: a place on the plan and the nearest stake in words, if the browser tells. No height. */

const WINDS = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];
const INSTEAD = "Nothing on site hangs on it: go from stake to stake by the distance and direction in the list, or load stakes.gpx from the plan's folder into a handheld or a map app.";
const TROUBLES = {
  none: "This browser tells pages no position.",
  insecure: "This browser tells no position to a page opened in this way.",
  1: "No position: the browser or the phone does not allow it to this page. Allow “location” for the browser and press again; some phones never allow it to a page opened from a file.",
  2: "No position: the phone can't tell where it is just now. Step out from under trees and walls and wait a minute.",
  3: "No position yet: it takes too long. Step out from under trees and walls; it goes on trying.",
};

function startPosition({ map, plan, pegs, opened }) {
  const button = document.querySelector("[data-tool=here]"), told = document.querySelector(".position");
  const dot = L.circleMarker([0, 0], { radius: 7, className: "me", interactive: false });
  const ring = L.circle([0, 0], { radius: 1, className: "me-ring", interactive: false });
  let watch = null, first = true;

  const say = (words) => { told.textContent = words; };
  function stop() {
    if (watch !== null) navigator.geolocation.clearWatch(watch);
    watch = null;
    dot.remove();
    ring.remove();
    button.setAttribute("aria-pressed", "false");
  }
  function found({ coords }) {
    const here = L.latLng(coords.latitude, coords.longitude);
    ring.setLatLng(here).setRadius(coords.accuracy).addTo(map);
    dot.setLatLng(here).addTo(map);
    if (first && L.latLngBounds(plan.ground).contains(here)) map.panTo(here);
    first = false;
    say(sentence(here, coords.accuracy));
  }
  function sentence(here, accuracy) {
    const near = pegs.reduce((a, b) => (a && a.at.distanceTo(here) <= b.at.distanceTo(here) ? a : b), null);
    const good = `good to ${far(accuracy)}`;
    if (!near) return `${here.lat.toFixed(6)}, ${here.lng.toFixed(6)}, ${good}.`;
    const away = near.at.distanceTo(here);
    const stands = away <= accuracy / 3 ? `At ${near.name}, as near as it can tell` : `${far(away)} ${wind(near.at, here)} of ${near.name}`;
    const goal = opened();
    const on = goal && goal !== near ? ` ${goal.name} is ${far(goal.at.distanceTo(here))} to the ${wind(here, goal.at)}.` : "";
    return `${stands}, ${good}.${on}`;
  }
  const far = (metres) => {
    const long = metres * plan.scale;
    if (long < 2000) return `${long < 10 ? Math.max(1, Math.round(long)) : Math.round(long)} ${plan.unit}`;
    return plan.unit === "m" ? `${(metres / 1000).toFixed(1)} km` : `${(metres / 1609.344).toFixed(1)} mi`;
  };

  button.addEventListener("click", () => {
    if (watch !== null) { stop(); say(""); return; }
    if (!("geolocation" in navigator)) return say(`${TROUBLES.none} ${INSTEAD}`);
    if (!window.isSecureContext) return say(`${TROUBLES.insecure} ${INSTEAD}`);
    first = true;
    button.setAttribute("aria-pressed", "true");
    say("Asking the phone where it is …");
    watch = navigator.geolocation.watchPosition(found, ({ code }) => {
      if (code === 1) stop();
      say(`${TROUBLES[code] ?? TROUBLES[2]} ${INSTEAD}`);
    }, { enableHighAccuracy: true, maximumAge: 2000, timeout: 20000 });
  });
}

/* The direction in which `to` lies from `from`, in words. */
function wind(from, to) {
  const x = (to.lng - from.lng) * Math.cos((from.lat * Math.PI) / 180), y = to.lat - from.lat;
  return WINDS[Math.round(((Math.atan2(x, y) * 180) / Math.PI + 360) / 45) % 8];
}
