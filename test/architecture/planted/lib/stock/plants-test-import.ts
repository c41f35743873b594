export { helper } from "@/test/helper";
