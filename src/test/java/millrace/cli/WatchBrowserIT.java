// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.InetAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import millrace.Browser;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.logbook.RunState;
import millrace.sim.fault.FaultPlan;
import millrace.watch.WatchServer;
import millrace.watch.bench.WatchedBench;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Nights on a bench of sockets, in a process of their own, watched in a real browser. What was seen
 * stays in target/watch as pictures, for a person to look at.
 */
@Timeout(600)
class WatchBrowserIT {
  private static final Path PICTURES = Path.of("target", "watch");

  private static final String SEQUENCE =
      """
      sequence: a night to be watched
      readings: {count: 3, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - at temperatures: [23 degC, 35 degC]
          soak: {within: 5 ppm, at least: 40 min, at most: 6 h}
          do:
            - in ranges: [1mA, 100uA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 15 %, 30 %, 45 %, 60 %, 75 %, 90 %]}
                  sweep: up
      """;

  @TempDir private Path folder;
  private final List<Throwable> faults = new CopyOnWriteArrayList<>();

  private Path book() {
    return folder.resolve("night.db");
  }

  private RunProcess run(Served bench, String... more) throws Exception {
    Path sequence = Files.writeString(folder.resolve("night.yaml"), SEQUENCE);
    List<String> words =
        new java.util.ArrayList<>(
            List.of(
                "run",
                sequence.toString(),
                "--unit",
                "FX3-00042",
                "--datasheet",
                "examples/fx-3.datasheet.yaml",
                "--bench",
                bench.file(),
                "--speed",
                Integer.toString(Served.SPEED),
                "--logbook",
                book().toString()));
    words.addAll(List.of(more));
    RunProcess run = RunProcess.start(folder, words.toArray(String[]::new));
    run.says(folder.resolve("err"), "point 1 of");
    return run;
  }

  private WatchServer serve(int port) {
    return serve(port, Optional.empty());
  }

  private WatchServer serve(int port, Optional<WatchedBench> bench) {
    return WatchServer.start(
        new WatchServer.Settings(
            LogbookPlace.of(book()),
            bench,
            Optional.empty(),
            InetAddress.getLoopbackAddress(),
            port,
            false,
            Optional.empty(),
            Optional.empty()),
        faults::add);
  }

  /** Takes a picture for people, and looks for what keeps somebody from reading or using it. */
  private static void picture(Browser browser, String name) throws Exception {
    browser.picture(PICTURES.resolve(name + ".png"));
    assertEquals(List.of(), browser.barriers(), name);
  }

  private void nothingForeign(Browser browser, WatchServer server) {
    assertEquals(List.of(), browser.complaints());
    assertEquals(List.of(), faults);
    List<String> foreign =
        browser.requested().stream()
            .filter(a -> !a.startsWith(server.address()) && !a.startsWith("about:"))
            .toList();
    assertEquals(List.of(), foreign);
  }

  private static String answer() {
    return "document.getElementById('answer').textContent";
  }

  @Test
  void aNightIsWatchedToItsEndReloadedInTheMiddleAndReadsOnAPhone() throws Exception {
    try (Served bench = Served.at(folder, FaultPlan.NONE);
        Browser browser = Browser.start(folder)) {
      RunProcess run = run(bench);
      try (WatchServer server = serve(0)) {
        browser.screen(1400, 900, false);
        browser.open(server.address() + "/");
        browser.until("document.querySelector('.verdict').innerText.includes('one under way')");
        browser.open(server.address() + "/run/1");
        browser.until(answer() + " === 'Running'");
        browser.until("document.getElementById('soak').innerText.includes('Soak at')");
        browser.until(
            "/Round trip[^]*\\b[0-9.]+ [mµ]?s\\b/.test("
                + "document.getElementById('instruments').innerText)");
        picture(browser, "soak");
        browser.open(server.address() + "/run/1");
        browser.until("document.getElementById('limits').innerText.includes('Limits')");
        picture(browser, "sweep");
        assertEquals(0, browser.complaints().size(), () -> browser.complaints().toString());

        assertTrue(List.of(0, 1, 7).contains(run.ended()), run::said);
        browser.until(answer() + ".startsWith('Outcome: ')");
        browser.until("document.getElementById('currents').querySelector('svg') !== null");
        browser.until("!document.getElementById('instruments').innerText.includes('Round trip')");
        picture(browser, "finished");
        browser.screen(390, 844, true);
        browser.until("document.documentElement.scrollWidth <= 390");
        picture(browser, "phone-dark");
        browser.open(server.address() + "/run/1/report");
        browser.until(
            "getComputedStyle(document.querySelector('.verdict')).borderStyle === 'solid'");
        nothingForeign(browser, server);
      }
    }
  }

  @Test
  void itIsPausedGoneOnWithAndStoppedSafeByKeyboardAlone() throws Exception {
    try (Served bench = Served.at(folder, FaultPlan.NONE);
        Browser browser = Browser.start(folder)) {
      RunProcess run = run(bench);
      try (WatchServer server = serve(0)) {
        browser.open(server.address() + "/run/1");
        press(browser, "pause");
        browser.until(answer() + ".startsWith('Paused')");
        browser.until("document.getElementById('asked').innerText.includes('no further point')");
        picture(browser, "paused");
        nothingIsDrawnUnderAPress(browser);
        press(browser, "continue");
        browser.until(answer() + " === 'Running'");
        browser.text("document.querySelector('.note summary').focus()");
        browser.key("Enter");
        browser.text("document.querySelector('.note textarea').focus()");
        browser.type("<b>the door</b> stood open");
        browser.key("Tab");
        browser.type("E. Winter");
        browser.key("Enter");
        browser.until("document.getElementById('said').textContent.includes('note is kept')");
        press(browser, "stop");
        run.ended();
        browser.until(answer() + ".startsWith('Stopped early')");
        browser.until("document.getElementById('asked').innerText.includes('safe state')");
        picture(browser, "stopped");
        nothingForeign(browser, server);
      }
      try (Logbook book = Logbook.readOnly(book())) {
        assertEquals(RunState.STOPPED, book.reader(1).summary().state());
        List<IncidentKind> kinds = book.reader(1).incidents().stream().map(Incident::kind).toList();
        assertTrue(kinds.contains(IncidentKind.SAFE_STATE), kinds::toString);
        assertEquals("<b>the door</b> stood open", book.reader(1).remarks().get(0).text());
      }
    }
  }

  @Test
  void aTemperatureIsSkippedAndOneIsAdded() throws Exception {
    try (Served bench = Served.at(folder, FaultPlan.NONE);
        Browser browser = Browser.start(folder)) {
      RunProcess run = run(bench);
      try (WatchServer server = serve(0)) {
        browser.screen(1400, 900, false);
        browser.open(server.address() + "/run/1");
        unfold(browser, "add");
        browser.type("30 kohm");
        browser.key("Enter");
        browser.until("document.getElementById('said').textContent.includes('Nothing was asked')");
        browser.forgive(); // the refusal is an answer of 400
        browser.text("document.querySelector('.act.add summary').focus()");
        unfold(browser, "add");
        browser.text("document.querySelector('.act.add input[name=temperature]').value = ''");
        browser.type("30 degC");
        browser.key("Enter");
        browser.until("document.getElementById('said').textContent.startsWith('Asked of run 1')");
        String asked = "document.getElementById('asked').innerText";
        browser.until(asked + ".includes('added')");
        browser.until("document.getElementById('programme').innerText.includes('30.0')");
        press(browser, "skip");
        browser.until(asked + ".includes('leaves out')");
        picture(browser, "skipped-and-added");
        assertTrue(List.of(0, 1, 7).contains(run.ended()), run::said);
        browser.until(answer() + ".startsWith('Outcome')");
        browser.until("document.getElementById('programme').innerText.includes('skipped')");
        nothingForeign(browser, server);
      }
      try (Logbook book = Logbook.readOnly(book())) {
        assertEquals(
            List.of("add temperature", "skip temperature"),
            book.reader(1).planChanges().stream().map(c -> c.kind().text()).toList());
        assertTrue(
            book.reader(1).points().stream()
                .flatMap(p -> p.conditions().temperatureDegC().stream().boxed())
                .anyMatch(t -> t == 30),
            "the added temperature was measured");
      }
    }
  }

  @Test
  void theBenchIsCheckedFromItsPageAndNotWhileARunHasIt() throws Exception {
    try (Served bench = Served.at(folder, FaultPlan.NONE);
        Browser browser = Browser.start(folder)) {
      RunProcess run = run(bench);
      WatchedBench watched =
          new WatchedBench(Path.of(bench.file()), Path.of("drivers"), folder.resolve(".millrace"));
      try (WatchServer server = serve(0, Optional.of(watched))) {
        browser.screen(1200, 900, false);
        browser.open(server.address() + "/bench");
        String verdict = "document.querySelector('.verdict').innerText";
        browser.until(verdict + ".includes('which has a run')");
        unfoldAndPress(browser, "check");
        browser.until("document.getElementById('said').textContent.includes('is in use by')");
        picture(browser, "bench-in-use");
        assertEquals("0", browser.text("document.getElementById('checked').children.length"));
        browser.open(server.address() + "/run/1");
        press(browser, "stop");
        run.ended();
        browser.open(server.address() + "/bench");
        browser.until(verdict + ".includes('No run of this user has the bench')");
        unfoldAndPress(browser, "check");
        browser.until("document.getElementById('said').textContent.startsWith('Checked: ')");
        browser.until("document.getElementById('checked').innerText.includes('round trip')");
        browser.until(verdict + ".includes('last check')");
        picture(browser, "bench");
        browser.screen(390, 844, true);
        browser.until("document.documentElement.scrollWidth <= 390");
        picture(browser, "bench-phone-dark");
      }
    }
  }

  @Test
  void theDemonstrationIsWatchedWhileItRunsAndItsPageStays() throws Exception {
    RunProcess demo =
        RunProcess.start(
            folder, "demo", "--watch", "--speed", "900", "-o", folder.resolve("d").toString());
    demo.says(folder.resolve("out"), "Open this in a browser: ");
    String address =
        Files.readString(folder.resolve("out")).lines().findFirst().orElseThrow().substring(24);
    try (Browser browser = Browser.start(folder)) {
      browser.screen(1400, 900, false);
      browser.open(address);
      browser.until("document.querySelector('#now a') !== null");
      browser.text("document.querySelector('#now a').click()");
      browser.until("document.getElementById('answer')?.textContent === 'Running'");
      browser.until("document.getElementById('programme').querySelector('svg') !== null");
      picture(browser, "demonstration");
      demo.says(folder.resolve("err"), "The page is served until Ctrl-C.");
      browser.until(answer() + ".startsWith('Outcome: ')");
      assertEquals(List.of(), browser.complaints());
    }
    demo.process().destroy();
    assertEquals(143, demo.ended(), demo::said);
  }

  /** A press on what is replaced meanwhile would be lost. */
  private static void nothingIsDrawnUnderAPress(Browser browser) throws Exception {
    String changed = "window.drawn !== document.querySelector('main').innerHTML";
    String kept = "window.drawn = document.querySelector('main').innerHTML; true";
    browser.text(kept);
    browser.until(changed); // it goes on
    browser.text("document.body.dispatchEvent(new Event('pointerdown', {bubbles: true})); " + kept);
    Thread.sleep(1500);
    assertEquals("false", browser.text(changed));
    browser.text("document.body.dispatchEvent(new Event('pointerup', {bubbles: true}))");
    browser.until(changed);
  }

  /** Unfolds what it says, then does it, as a person without a mouse. */
  private static void press(Browser browser, String what) throws Exception {
    unfoldAndPress(browser, what);
    browser.until("document.getElementById('said').textContent.startsWith('Asked of run 1')");
  }

  /** Unfolds what can be done; the focus goes to its first field or button. */
  private static void unfold(Browser browser, String what) throws Exception {
    browser.until("document.querySelector('.act." + what + " summary')");
    browser.text("document.querySelector('.act." + what + " summary').focus()");
    if (!browser.text("document.querySelector('.act." + what + "').open").equals("true")) {
      browser.key("Enter");
    }
    browser.until("document.querySelector('.act." + what + "').open");
    browser.key("Tab");
  }

  private static void unfoldAndPress(Browser browser, String what) throws Exception {
    unfold(browser, what);
    browser.key("Enter");
  }

  /** The server in a process of its own, at a port. */
  private RunProcess server(String name, int port) throws Exception {
    Path home = java.nio.file.Files.createDirectories(folder.resolve(name));
    RunProcess server =
        RunProcess.start(
            home, "watch", "--logbook", book().toString(), "--port", Integer.toString(port));
    server.says(home.resolve("err"), "Serving until");
    return server;
  }

  @Test
  void aServerThatIsKilledOrStandsStillIsMissedAndHeardAgainWithoutAReload() throws Exception {
    String lost = "document.getElementById('link').textContent.startsWith('Connection lost')";
    String connected = "document.getElementById('link').textContent === 'Connected'";
    try (Served bench = Served.at(folder, FaultPlan.NONE);
        Browser browser = Browser.start(folder)) {
      RunProcess run = run(bench);
      RunProcess first = server("first", 0);
      String address =
          Files.readAllLines(folder.resolve("first").resolve("out")).get(0).replaceAll("/$", "");
      browser.open(address + "/run/1");
      browser.until(connected);
      press(browser, "pause"); // so that there is a run to be stopped at the end, on any machine
      browser.until(answer() + ".startsWith('Paused')");
      first.signal("STOP"); // it holds the connection and says nothing
      browser.until(lost);
      first.signal("CONT");
      browser.until(connected);
      first.process().destroyForcibly().waitFor();
      browser.until(lost);
      picture(browser, "connection-lost");
      RunProcess second = server("second", Integer.parseInt(address.replaceAll(".*:", "")));
      browser.until(connected);
      browser.forgive();
      press(browser, "stop");
      run.ended();
      browser.until(answer() + ".startsWith('Stopped early')");
      String complaints = browser.complaints().toString();
      assertTrue(browser.complaints().stream().allMatch(c -> c.contains("409")), complaints);
      second.process().destroy();
    }
  }

  @Test
  void aRunThatIsKilledAndResumedIsWatchedAllTheWay() throws Exception {
    try (Served bench = Served.at(folder, FaultPlan.NONE);
        Browser browser = Browser.start(folder)) {
      RunProcess run = run(bench);
      try (WatchServer server = serve(0)) {
        browser.open(server.address() + "/run/1");
        browser.until(answer() + " === 'Running'");
        run.process().destroyForcibly();
        run.ended();
        browser.until(answer() + ".startsWith('Interrupted')");
        browser.until("document.getElementById('now').innerText.includes('--resume 1')");
        picture(browser, "interrupted");
        RunProcess again =
            RunProcess.start(
                folder,
                "run",
                "--resume",
                "1",
                "--speed",
                Integer.toString(Served.SPEED),
                "--logbook",
                book().toString());
        browser.until(answer() + " === 'Running'");
        again.ended();
        browser.until(answer() + ".startsWith('Outcome: ')");
        nothingForeign(browser, server);
      }
    }
  }
}
