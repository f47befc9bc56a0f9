"""Debian's Chromium, driven by its own driver through the open WebDriver standard; nothing is fetched at run time."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")
MISSING = (
    "NO BROWSER: Debian's chromium and chromium-driver are not installed, so pages were not opened; "
    "their motion functions were evaluated by QuickJS instead"
)
QUIET = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--hide-scrollbars",
)  # fmt: skip


@contextmanager
def browser(width: int = 1200, height: int = 900) -> Iterator:
    """A browser with an empty profile and a screen of this size, in CSS pixels."""
    from selenium import webdriver
    from selenium.webdriver.chrome.service import Service

    options = webdriver.ChromeOptions()
    options.binary_location = CHROMIUM
    with tempfile.TemporaryDirectory() as profile:
        for one in (*QUIET, f"--user-data-dir={profile}"):
            options.add_argument(one)
        driver = webdriver.Chrome(options=options, service=Service(DRIVER))
        try:
            screen(driver, width, height)
            yield driver
        finally:
            driver.quit()


def screen(driver, width: int, height: int) -> None:
    about = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
    driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", about)


def address(page: Path) -> str:
    return page.resolve().as_uri()


FAINTEST = """
const linear = c => { c /= 255; return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4; };
const light = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
const parts = colour => (colour.match(/[0-9.]+/g) || []).map(Number);
const seen = parts => parts.length === 3 || parts[3] > 0.99;
function behind(one) {
  for (let at = one; at; at = at.parentElement) {
    const colour = parts(getComputedStyle(at).backgroundColor);
    if (seen(colour)) return colour;
  }
  return [255, 255, 255];
}
let worst = [99, ""];
for (const one of document.querySelectorAll("body *")) {
  const own = [...one.childNodes].some(node => node.nodeType === 3 && node.textContent.trim());
  if (!own || !one.getClientRects().length || one.closest("svg, script, style")) continue;
  const a = light(parts(getComputedStyle(one).color)), b = light(behind(one));
  const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  if (ratio < worst[0]) worst = [ratio, one.outerHTML.slice(0, 200)];
}
return worst;
"""
"""The least contrast of any text of a page with what is behind it, and where (WCAG 2.1, 1.4.3: relative luminance)."""
