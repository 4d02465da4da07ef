"""A headless Chromium for the tests of the report page, and how to read its logs."""

import json
import os
import shutil

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service


def start(dark=False, width=1280, height=900):
    options = Options()
    options.binary_location = shutil.which("chromium")
    arguments = ["--headless=new", "--disable-gpu", "--no-first-run", "--disable-background-networking",
                 "--disable-component-update", "--disable-dev-shm-usage", "--hide-scrollbars",
                 f"--window-size={width},{height}"]
    if os.geteuid() == 0:
        arguments.append("--no-sandbox")
    for argument in arguments:
        options.add_argument(argument)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(service=Service(shutil.which("chromedriver")), options=options)
    driver.set_page_load_timeout(60)
    if dark:
        features = [{"name": "prefers-color-scheme", "value": "dark"}]
        driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})
    return driver


def requests(driver):
    """Addresses that the page asked for since the last call."""
    asked = []
    for entry in driver.get_log("performance"):
        message = json.loads(entry["message"])["message"]
        if message["method"] == "Network.requestWillBeSent":
            asked.append(message["params"]["request"]["url"])
    return asked


def complaints(driver):
    """What the page wrote to its console since the last call: errors, refusals, warnings."""
    return [entry["message"] for entry in driver.get_log("browser")]
