export { expireQuotes } from "./expire-quotes";
export { tidyUp } from "./tidy-up";
