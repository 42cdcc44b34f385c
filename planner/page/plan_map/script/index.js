/* The door to the scripts of the page. */

export { bus, tell } from "./bus.js";
export { Plan } from "./plan.js";
