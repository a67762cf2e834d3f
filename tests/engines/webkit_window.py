#!/usr/bin/python3
"""A window of WebKitGTK for WebKitWebDriver to work in. Unlike the one that comes with it, it keeps what
pages store in a folder, so that a test can close it and open it again.

    webkit_window.py FOLDER"""
import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import Gtk, WebKit2  # noqa: E402


def main(folder):
    kept = WebKit2.WebsiteDataManager(base_data_directory=f"{folder}/data", base_cache_directory=f"{folder}/cache")
    context = WebKit2.WebContext(website_data_manager=kept)
    context.set_preferred_languages(["en-GB"])
    context.set_automation_allowed(True)
    window = Gtk.Window(default_width=390, default_height=844)
    window.connect("destroy", Gtk.main_quit)

    def view(_session):
        made = WebKit2.WebView(web_context=context, is_controlled_by_automation=True)
        # The driver closes what it opened, and then waits for this process to end.
        made.connect("close", lambda _view: window.destroy())
        window.add(made)
        window.show_all()
        return made

    def started(_context, session):
        about = WebKit2.ApplicationInfo()
        about.set_name("wetsleeve-test")
        session.set_application_info(about)
        session.connect("create-web-view", view)

    context.connect("automation-started", started)
    Gtk.main()


main(sys.argv[1])
