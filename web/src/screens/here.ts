// What another tab may have taken away meanwhile.
import type { Tank } from "../book/records";
import { t } from "../words";
import type { Kit } from "./screens";

export function tankHere({ book }: Kit, id: string | undefined): Tank {
  const tank = book.tanks.find((each) => each.id === id);
  if (!tank) throw new Error(t("This tank is not in the book any more: it was removed. Go back and choose another."));
  return tank;
}
