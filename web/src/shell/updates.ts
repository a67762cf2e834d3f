// A new version installs whole in the background and waits. It takes over when the person says so.
import { Workbox } from "workbox-window";
import { tell } from "../base/bar";
import { keepLater } from "../base/part";
import { t } from "../base/words";

const hour = 3_600_000;

export function watchForUpdates(beforeReload: () => Promise<void>): void {
  if (!("serviceWorker" in navigator)) return;
  const workbox = new Workbox("./sw.js", { scope: "./", updateViaCache: "none" });
  let accepted = false;

  const offer = () =>
    tell(t("A new version is ready."), {
      label: t("Use it now"),
      act() {
        accepted = true;
        workbox.messageSkipWaiting();
      },
    });
  workbox.addEventListener("waiting", offer);
  workbox.addEventListener("controlling", (event) => {
    if (!event.isUpdate) return;
    const reload = () => void beforeReload().finally(() => location.reload());
    if (accepted) reload();
    // Another tab accepted it. This page is whole in memory and may go on until it is convenient.
    else tell(t("Another tab switched to a new version."), { label: t("Reload"), act: reload });
  });

  void workbox
    .register()
    .then(async (registration) => {
      const installing = registration?.installing;
      if (!registration?.active && installing)
        await new Promise<void>((done) => installing.addEventListener("statechange", () => registration.active && done()));
      await keepLater(document.documentElement.lang);
    })
    .catch(() => {
      // No offline use in this browser mode; everything else works.
    });

  // Pages stay open for days: look again when one is taken up, without a timer.
  let looked = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || Date.now() - looked < hour) return;
    looked = Date.now();
    void workbox.update().catch(() => {});
  });
}
