"""The report page in Chromium: loads in silence, reads values, toggles, zooms, plays, prints, fits every screen.

Arguments: the program hairfibre; a folder for screenshots (optional). Closes with `N passed, N failed`.
"""

import os
import re
import subprocess
import sys
import tempfile

from browser import Browser
from selenium.webdriver import ActionChains, Keys
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import Select

here = os.path.dirname(os.path.abspath(__file__))
program = os.path.abspath(sys.argv[1])
shots = sys.argv[2] if len(sys.argv) > 2 else None
count = {True: 0, False: 0}
work = tempfile.mkdtemp()


def check(good, what, more=""):
    count[bool(good)] += 1
    if not good:
        print("failed: %s\n  %s" % (what, more))


def made(name, *words):
    path = work + "/" + name + ".html"
    subprocess.run([program, "report", *words, "--save", path], check=True, capture_output=True)
    return path


def first(parent, selector):
    return parent.find_element(By.CSS_SELECTOR, selector)


def every(parent, selector):
    return parent.find_elements(By.CSS_SELECTOR, selector)


def hover(browser, frame, share):
    """Puts the mouse at a share of the width of the plot, half way up."""
    box = frame.size
    browser.run("arguments[0].scrollIntoView({block: 'center'})", frame)
    ActionChains(browser.driver).move_to_element_with_offset(frame, int((share - 0.5) * box["width"]), 0).perform()


def quiet(browser, what):
    said = browser.complaints()
    check(not said, what + ": the console is silent", said)
    asked = browser.fetched()
    check(not asked, what + ": nothing is fetched", asked)


def values(text):
    """Numbers in a line of readings."""
    return [float(x.replace("\u2212", "-")) for x in re.findall(r"[-\u2212]?\d+(?:\.\d+)?", text)]


page = made("lesson", here + "/lesson.lua")
browser = Browser()

# ---- loads, and says the same as the program ----------------------------------------------------------
browser.open(page)
quiet(browser, "lesson")
charts = every(browser.driver, ".chart")
check(len(charts) >= 5, "figures are there", len(charts))
drawn = [len(every(chart, "svg[role=slider] path, .lie i")) for chart in charts]
check(all(n > 4 for n in drawn), "every figure is drawn", drawn)

sorption = charts[0]
frame, read = first(sorption, "svg[role=slider]"), first(sorption, ".read")
hover(browser, frame, 0.66)
reading = values(read.text)
check(len(reading) == 3, "hovering shows the place and both values", read.text)
for branch, shown in zip(("absorption", "desorption"), reading[1:]):
    answer = subprocess.run([program, "value", "regain", "--at", "humidity=%g%%" % reading[0], "--at", "temperature=25degC",
                             "--at", "branch=" + branch, "--raw"], check=True, capture_output=True, text=True).stdout
    check(abs(100 * float(answer) - shown) <= 0.006, "the value under the mouse is that of the command", (answer, shown))
check(55 < reading[0] < 75, "the place is where the mouse is", reading)

pressure = charts[1]
hover(browser, first(pressure, "svg[role=slider]"), 0.9)
check("outside the evidence" in first(pressure, ".read").text, "hovering says where evidence ends", first(pressure, ".read").text)
check(len(every(pressure, "path[stroke-dasharray='7 5']")) == 1, "the line is broken outside the evidence")
hover(browser, first(pressure, "svg[role=slider]"), 0.2)
check("outside" not in first(pressure, ".read").text, "and does not say so where it holds")

bars = charts[2]
hover(browser, first(bars, "svg[role=slider]"), 0.9)
check("plates" in first(bars, ".read").text and "41" in first(bars, ".read").text, "hovering reads bars", first(bars, ".read").text)

lying = first(browser.driver, ".lie")
rows = every(lying, "[role=listitem]")
widths = [first(row, "i").size["width"] for row in rows]
check(len(rows) >= 3 and widths == sorted(widths, reverse=True) and widths[0] > 100, "bars that lie are ranked", widths)
check(all(values(first(row, "i + b + span").text) for row in rows), "and carry their values", [row.text for row in rows])

# ---- legend -------------------------------------------------------------------------------------------
key = first(sorption, "button[aria-pressed]")
before = len(every(frame, "g[clip-path] path"))
key.click()
check(key.get_attribute("aria-pressed") == "false" and len(every(frame, "g[clip-path] path")) < before, "the legend hides a line")
hover(browser, frame, 0.5)
check(len(values(read.text)) == 2, "a hidden line is not read", read.text)
key.click()
check(key.get_attribute("aria-pressed") == "true" and len(every(frame, "g[clip-path] path")) == before, "and shows it again")

# ---- zoom ---------------------------------------------------------------------------------------------


def labels(svg):
    return [t.text for t in every(svg, "text")]


whole = labels(frame)
box = frame.size
ActionChains(browser.driver).move_to_element_with_offset(frame, int(-0.1 * box["width"]), 0).click_and_hold().move_by_offset(
    int(0.2 * box["width"]), 0).release().perform()
part = labels(frame)
check(part != whole and "100" not in part, "dragging looks closer", part)
first(sorption, "button[aria-label='Show all']").click()
check(labels(frame) == whole, "one button shows all again", labels(frame))
first(sorption, "button[aria-label='Zoom in']").click()
closer = labels(frame)
first(sorption, "button[aria-label='Move right']").click()
check(closer != whole and labels(frame) != closer, "buttons zoom and move", labels(frame))
first(sorption, "button[aria-label='Zoom out']").click()
ActionChains(browser.driver).double_click(frame).perform()
check(labels(frame) == whole, "a double click shows all", labels(frame))

# ---- keyboard alone -------------------------------------------------------------------------------------
browser.open(page)
sorption = every(browser.driver, ".chart")[0]
frame = first(sorption, "svg[role=slider]")
ActionChains(browser.driver).send_keys(Keys.TAB).perform()
check(browser.run("return document.activeElement.className") == "skip", "the first key leads to the skip link")
found = False
for _ in range(12):
    ActionChains(browser.driver).send_keys(Keys.TAB).perform()
    found = found or browser.run("return document.activeElement === arguments[0]", frame)
    if found:
        break
check(found, "the figure is reached by keyboard")
outline = browser.run("const s = getComputedStyle(document.activeElement); return [s.outlineStyle, parseFloat(s.outlineWidth)]")
check(outline[0] == "solid" and outline[1] >= 2, "what has the focus is outlined", outline)
spoken = []
for name in (Keys.HOME, Keys.ARROW_RIGHT, None, Keys.END):
    keys = ActionChains(browser.driver)
    (keys.key_down(Keys.SHIFT).send_keys(Keys.ARROW_RIGHT).key_up(Keys.SHIFT) if name is None else keys.send_keys(name)).perform()
    spoken.append(frame.get_attribute("aria-valuetext"))
check([values(s)[0] for s in spoken] == [0, 1, 11, 100], "arrow keys read one value after the other", spoken)
ActionChains(browser.driver).send_keys("+").perform()
check(labels(frame) != whole, "plus looks closer")
ActionChains(browser.driver).send_keys(Keys.ESCAPE).perform()
check(labels(frame) == whole, "escape shows all")
quiet(browser, "after playing with the figures")

# ---- the cross-section plays ----------------------------------------------------------------------------
player = first(browser.driver, ".play")
browser.run("arguments[0].scrollIntoView({block: 'center'})", player)
button, slider, said = first(player, "button"), first(player, "input[type=range]"), first(player, ".read")
check("regain 12." in said.text and "in the middle" in said.text, "the cross-section starts with words", said.text)
start = said.text
button.click()
browser.driver.implicitly_wait(0)
browser.run("return 1")
deadline = 200
while int(slider.get_attribute("value")) < 5 and deadline > 0:
    deadline -= 1
    browser.driver.execute_async_script("setTimeout(arguments[0], 50)")
check(int(slider.get_attribute("value")) >= 5 and said.text != start, "play moves through time", said.text)
button.click()
held = slider.get_attribute("value")
browser.driver.execute_async_script("setTimeout(arguments[0], 400)")
check(slider.get_attribute("value") == held and button.text == "Play", "pause holds it")
browser.run("arguments[0].focus()", slider)
ActionChains(browser.driver).send_keys(Keys.END).perform()
hot = slider.get_attribute("aria-valuetext")
check("step 3 (plates)" in hot and "in the middle" in hot, "the slider says time, step and values", hot)
Select(first(player, "select")).select_by_visible_text("Temperature")
check("temperature" in said.text and values(said.text)[2] > 150, "the other quantity can be shown", said.text)
Select(first(player, "select")).select_by_visible_text("Regain")
browser.run("arguments[0].value = 90; arguments[0].dispatchEvent(new Event('input'))", slider)
fills = {c.get_attribute("fill") for c in every(player, "svg[role=img] circle")}
check(len(fills) >= 3, "rings have colours of their own", fills)

# ---- for those who listen --------------------------------------------------------------------------------
unnamed = browser.run("""
  const named = (n) => n.getAttribute("aria-label") || n.getAttribute("aria-labelledby") || n.textContent.trim();
  return [...document.querySelectorAll("button, input, select, a, [role=slider], [role=img], [role=region], [role=group], figure, section")]
    .filter((n) => !named(n)).map((n) => n.outerHTML.slice(0, 200));""")
check(not unnamed, "everything that can be used has a name", unnamed)
broken = browser.run("""
  return [...document.querySelectorAll("[aria-labelledby]")].filter((n) => !document.getElementById(n.getAttribute("aria-labelledby")))
    .map((n) => n.outerHTML.slice(0, 200));""")
check(not broken, "labels point at something", broken)
ids = browser.run("return [...document.querySelectorAll('[id]')].map((n) => n.id)")
check(len(ids) == len(set(ids)), "no id is used twice", sorted(i for i in ids if ids.count(i) > 1))
levels = browser.run("return [...document.querySelectorAll('h1, h2, h3')].map((n) => Number(n.tagName[1]))")
check(levels.count(1) == 1 and all(b - a <= 1 for a, b in zip(levels, levels[1:])), "headings step down one by one", levels)
check(browser.run("return [...document.querySelectorAll('table')].every((t) => t.caption && t.querySelector('th[scope]'))"),
      "tables have captions and heads")

# ---- on paper -----------------------------------------------------------------------------------------------
browser.open(page)
text, path = browser.pdf_text()
for words in ("Lesson", "How much water", "never on a head", "Water in hair at 25", "Regain (%)", "step 3", "chamberlain1931", "digest",
              "31.279", "Sources"):
    check(words in text, "paper holds: " + words, text[:2000])
check("Zoom in" not in text and "Point at the figure" not in text, "paper has no buttons")
if shots:
    subprocess.run(["cp", path, shots + "/lesson.pdf"], check=True)

# ---- every screen, light and dark -----------------------------------------------------------------------------
CONTRAST = """
  const lum = (c) => { const v = c.match(/[\\d.]+/g).slice(0, 3).map((x) => x / 255)
    .map((x) => x <= 0.03928 ? x / 12.92 : Math.pow((x + 0.055) / 1.055, 2.4)); return 0.2126 * v[0] + 0.7152 * v[1] + 0.0722 * v[2]; };
  const ground = (n) => { while (n) { const c = getComputedStyle(n).backgroundColor; if (!/, 0\\)|transparent/.test(c)) return c; n = n.parentElement; }
    return "rgb(255,255,255)"; };
  const ratio = (a, b) => { const x = lum(a), y = lum(b); return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05); };
  const low = [];
  for (const n of document.querySelectorAll("p, td, th, li, h1, h2, h3, a, button, summary, caption, figcaption, small")) {
    if (n.offsetParent === null) continue;
    const r = ratio(getComputedStyle(n).color, ground(n));
    if (r < 4.5) low.push([n.outerHTML.slice(0, 120), r]);
  }
  for (const n of document.querySelectorAll(".chart svg text, .play svg[role=img] text")) {
    const r = ratio(getComputedStyle(n).fill, ground(n));
    if (r < 4.5) low.push([n.outerHTML.slice(0, 120), r]);
  }
  for (const n of document.querySelectorAll("g[clip-path] path[stroke]")) {
    const r = ratio(getComputedStyle(n).stroke, ground(n));
    if (r < 3) low.push([n.outerHTML.slice(0, 120), r]);
  }
  return low;"""
for width, height in ((360, 740), (820, 1100), (1280, 800), (1920, 1080)):
    for dark in (False, True):
        browser.open(page, width, height, dark)
        name = "%d px, %s" % (width, "dark" if dark else "light")
        wide = browser.run("return document.documentElement.scrollWidth")
        check(wide <= width, name + ": nothing sticks out", wide)
        low = browser.run(CONTRAST)
        check(not low, name + ": words and lines stand out", low[:5])
        cut = browser.run("""return [...document.querySelectorAll(".lie span")].filter((n) =>
          n.getBoundingClientRect().right > n.closest("figure").getBoundingClientRect().right + 1).map((n) => n.textContent)""")
        check(not cut, name + ": values of bars are not cut off", cut)
        small = browser.run("""return [...document.querySelectorAll("button, select, summary, input")].filter((n) => n.offsetParent)
          .map((n) => [n.textContent, n.getBoundingClientRect().height]).filter((p) => p[1] < 24)""")
        check(not small, name + ": what is pressed is large enough", small)
        letters = browser.run("""return [...document.querySelectorAll(".chart svg[role=slider] text")].map((t) =>
          t.getBoundingClientRect().height).reduce((a, b) => Math.min(a, b), 1e9)""")
        check(letters >= (24 if width >= 1920 else 13), name + ": letters in figures can be read", letters)
        clash = browser.run("""
          const hits = [];
          for (const svg of document.querySelectorAll(".chart svg[role=slider]")) {
            const boxes = [...svg.querySelectorAll("text")].map((t) => [t.textContent, t.getBoundingClientRect()]);
            boxes.forEach(([a, p], i) => boxes.slice(i + 1).forEach(([b, q]) => {
              if (p.left < q.right - 1 && q.left < p.right - 1 && p.top < q.bottom - 3 && q.top < p.bottom - 3) hits.push([a, b]); }));
            const frame = svg.getBoundingClientRect();
            for (const [a, p] of boxes) if (p.left < frame.left - 1 || p.right > frame.right + 1) hits.push([a, "edge"]);
          }
          return hits;""")
        check(not clash, name + ": no words lie on others or leave the figure", clash[:6])
        quiet(browser, name)
        if shots:
            browser.picture("%s/lesson_%d_%s.png" % (shots, width, "dark" if dark else "light"))

# ---- without scripts, and with hostile words ----------------------------------------------------------------------
browser.open(page, scripts=False)
quiet(browser, "without scripts")
shown = first(browser.driver, "main").text
check("runs no scripts" in shown and len(every(browser.driver, "table")) >= 6, "without scripts the numbers are there", shown[:300])

EVIL = "</script><script>document.title='pwned'</script><img src=x onerror=\"document.title='pwned'\"><svg onload=\"document.title='pwned'\">"
with open(work + "/evil.lua", "w", encoding="utf-8") as file:
    file.write("""-- %s
local hf = require "hairfibre"
local evil = [=[%s]=]
assert(hf.plot.figure { title = evil, source = evil, note = evil, x = { label = evil, unit = evil }, y = { label = evil, unit = evil },
  lines = { { name = evil, x = { 1, 2 }, y = { 1, 2 } }, { name = "b" .. evil, x = { 1, 2 }, y = { 2, 1 } } },
  marks = { { x = 1.5, text = evil:sub(1, 80) } } }:save "a.svg")
assert(hf.plot.rings { radii = { 1, 2 }, values = { 3, 4 }, title = evil, label = evil, unit = evil, captions = { evil } }:save "b.svg")
assert(hf.result { title = evil, caution = evil, notes = { evil }, columns = { { name = "a", values = { evil } } } }:save "c.csv")
print(evil)
""" % (EVIL, EVIL))
hostile = made("evil", work + "/evil.lua", "--title", EVIL)
browser.open(hostile)
chart = first(browser.driver, ".chart")
hover(browser, first(chart, "svg[role=slider]"), 0.8)
first(browser.driver, ".play button").click()
check(browser.run("return document.title").startswith("</script>"), "hostile words stay words", browser.driver.title)
check(browser.run("return document.querySelectorAll('img, main svg:not([role]):not(.key):not([viewBox])').length") == 0,
      "and make no elements")
quiet(browser, "hostile words")

browser.close()
subprocess.run(["rm", "-rf", work], check=False)
print("%d passed, %d failed" % (count[True], count[False]))
sys.exit(count[False] > 0)
