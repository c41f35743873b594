/** Calendars for other programs: tanks, people and the shop, each by a private address that can be revoked. */
export { type FeedChoice, makeFeed } from "./make";
export { type FeedOverview, feedOverview, type ShownFeed } from "./overview";
export { type FeedFile, readFeed } from "./read";
export { revokeFeed } from "./revoke";
