import { ROLE_NAMES, ROLES } from "@/lib/access";

export const ROLE_OPTIONS = ROLES.map((role) => ({ value: role, label: ROLE_NAMES[role] }));
