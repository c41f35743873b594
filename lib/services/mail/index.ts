/** Mail: written with what it tells of, sent by the worker. */
export { deliverMails, type Handed, type HandOver, type OutgoingMail } from "./deliver";
export type { MailAddresses, Post } from "./quote-mails";
