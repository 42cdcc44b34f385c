/* The door to the scripts of the page. */

export { bus, rested, tell } from "./bus.js";
export { Plan } from "./plan.js";
