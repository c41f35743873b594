/**
 * `npm run bench -- ADDRESS [COOKIE]`: how fast a page answers under the load of a busy shop, ten people who reload all
 * the time. Measured and printed, never asserted: it depends on the machine.
 *
 * @example npm run bench -- http://localhost:3000/tanks "next-auth.session-token=…"
 */
import autocannon from "autocannon";

const PEOPLE = 10;
const SECONDS = 15;

const [address, cookie] = process.argv.slice(2);
if (address === undefined) {
  console.error("Name the page: npm run bench -- http://localhost:3000/ [cookie]");
  process.exit(1);
}

/** @type {number[]} */
const times = [];
let refused = 0;

const load = autocannon({
  url: address,
  connections: PEOPLE,
  duration: SECONDS,
  ...(cookie ? { headers: { cookie } } : {}),
});
load.on("response", (_client, status, _bytes, milliseconds) => {
  times.push(milliseconds);
  if (status !== 200) refused += 1;
});
await load;

times.sort((one, other) => one - other);

/** @param {number} share of the answers that were at least as fast */
const percentile = (share) => (times[Math.ceil(share * times.length) - 1] ?? Number.NaN).toFixed(0);

if (refused > 0) {
  console.error(`${refused} of ${times.length} answers were no page: is somebody signed in?`);
  process.exitCode = 1;
}
console.log(
  `${address}: median ${percentile(0.5)} ms, p95 ${percentile(0.95)} ms, ${(times.length / SECONDS).toFixed(0)} pages/s with ${PEOPLE} people`,
);
