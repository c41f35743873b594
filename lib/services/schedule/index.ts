/** Bookings over time: other work on tanks, promises, the board as a whole, and weeks to come. */
export * from "./holds";
