"use client";

/** The same as everywhere, with the ways to go still around it. */
export { default } from "../error";
