export { Pool } from "pg";
