export { screen } from "@/app/screen";
