export { z } from "zod";
