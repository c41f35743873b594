/** A mail server on a port of its own that keeps what it is given, read back by a parser that shares nothing with the writer. */
import { type ParsedMail, simpleParser } from "mailparser";
import { SMTPServer } from "smtp-server";

export type MailServer = {
  readonly url: string;
  readonly mails: readonly ParsedMail[];
  readonly recipients: readonly string[];
  readonly close: () => Promise<void>;
};

type Behaviour = {
  readonly port?: number;
  /** answers to the first mails, in order: an SMTP code, or "cut" the line once the text has come */
  readonly answers?: readonly (number | "cut")[];
};

export async function startMailServer({
  port = 0,
  answers = [],
}: Behaviour = {}): Promise<MailServer> {
  const mails: ParsedMail[] = [];
  const recipients: string[] = [];
  const waiting = [...answers];
  const server = new SMTPServer({
    authOptional: true,
    closeTimeout: 100,
    disabledCommands: ["AUTH", "STARTTLS"],
    onData(stream, session, callback) {
      const answer = waiting.shift();
      void simpleParser(stream).then((mail) => {
        if (typeof answer === "number") {
          callback(Object.assign(new Error("not now"), { responseCode: answer }));
          return;
        }
        mails.push(mail);
        recipients.push(...session.envelope.rcptTo.map(({ address }) => address));
        if (answer === "cut") cutLine();
        else callback();
      });
    },
  });
  // The server answers a closed line with an error of its own; the tests look at what the sender makes of it.
  server.on("error", () => undefined);
  const sockets = new Set<{ destroy: () => void }>();
  server.server.on("connection", (socket: { destroy: () => void }) => sockets.add(socket));
  const cutLine = (): void => {
    for (const socket of sockets) socket.destroy();
  };
  await new Promise<void>((resolve) => server.listen(port, "127.0.0.1", resolve));
  const address = server.server.address();
  const own = typeof address === "object" && address ? address.port : 0;
  return {
    url: `smtp://127.0.0.1:${own}`,
    mails,
    recipients,
    close: () =>
      new Promise((resolve) => {
        server.close(() => {
          resolve();
        });
      }),
  };
}
