export { headers } from "next/headers";
