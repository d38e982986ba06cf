"""A report page opened from disk in headless Chromium, driven as a person would."""

import base64
import os
import subprocess
import tempfile

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service


class Browser:
    """Chromium with one window. width, height: of the page, in CSS pixels."""

    def __init__(self):
        self.folder = tempfile.mkdtemp()
        options = Options()
        for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--disable-dev-shm-usage",
                     "--disable-background-networking", "--user-data-dir=" + self.folder + "/profile"):
            options.add_argument(word)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        self.driver = webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)

    def open(self, path, width=1280, height=800, dark=False, scripts=True):
        command = self.driver.execute_cdp_cmd
        command("Emulation.setDeviceMetricsOverride",
                {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500})
        command("Emulation.setEmulatedMedia",
                {"features": [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}]})
        command("Emulation.setScriptExecutionDisabled", {"value": not scripts})
        self.driver.get_log("browser")
        self.driver.get_log("performance")
        self.driver.get("file://" + os.path.abspath(path))

    def run(self, script, *arguments):
        return self.driver.execute_script(script, *arguments)

    def complaints(self):
        """What the console says: errors and warnings."""
        return [entry["message"] for entry in self.driver.get_log("browser")]

    def fetched(self):
        """Addresses that the page asked for, besides its own file and data: of its own."""
        found = []
        for entry in self.driver.get_log("performance"):
            if '"Network.requestWillBeSent"' in entry["message"] and '"url":"http' in entry["message"]:
                found.append(entry["message"][:300])
        return found

    def pdf_text(self):
        data = self.driver.execute_cdp_cmd("Page.printToPDF", {"printBackground": False})["data"]
        path = self.folder + "/page.pdf"
        with open(path, "wb") as file:
            file.write(base64.b64decode(data))
        text = subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True, check=True).stdout
        return text, path

    def picture(self, path):
        size = self.driver.execute_cdp_cmd("Page.getLayoutMetrics", {})["cssContentSize"]
        clip = {"x": 0, "y": 0, "width": size["width"], "height": min(size["height"], 12000), "scale": 1}
        data = self.driver.execute_cdp_cmd("Page.captureScreenshot", {"captureBeyondViewport": True, "clip": clip})["data"]
        with open(path, "wb") as file:
            file.write(base64.b64decode(data))

    def close(self):
        self.driver.quit()
        subprocess.run(["rm", "-rf", self.folder], check=False)
