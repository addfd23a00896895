// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import millrace.Browser;
import millrace.logbook.Logbook;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.watch.WatchServer;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Every state of the pages, on a wide screen and a telephone, at twice the zoom, light, dark and
 * printed: nothing is cut off, nothing scrolls sideways, axe-core finds no barrier. Pictures of all
 * of them stay in target/watch, for a person to look at.
 */
@Timeout(900)
class WatchStatesBrowserIT {
  private static final Path PICTURES = Path.of("target", "watch");
  private static final String SHEET = "examples/fx-3.datasheet.yaml";

  /**
   * On a telephone wide tables and drawings of a whole report scroll in their sections, which
   * browsers give to the keyboard by themselves; axe-core asks for a tab stop at each, which would
   * be in the way on wide screens.
   */
  private static final String SCROLLS = "scrollable-region-focusable";

  private static final int PHONE = 390;
  private static final int WIDE = 1400;

  @TempDir private Path folder;
  private final List<Throwable> faults = new CopyOnWriteArrayList<>();
  private final List<String> barriers = new ArrayList<>();
  private boolean everyWay;

  private Path book() {
    return folder.resolve("night.db");
  }

  private WatchServer serve() {
    return WatchServer.start(WatchServer.Settings.here(book(), 0), faults::add);
  }

  /** Looks at a page in every way that people do; in the short form in the two that differ most. */
  private void look(Browser browser, String name) throws Exception {
    browser.screen(WIDE, 900, false);
    seen(browser, name, WIDE);
    browser.screen(PHONE, 844, true);
    seen(browser, name + "-phone-dark", PHONE);
    if (!everyWay) {
      return;
    }
    browser.screen(WIDE, 900, true);
    seen(browser, name + "-dark", WIDE);
    browser.screen(PHONE, 844, false);
    seen(browser, name + "-phone", PHONE);
    browser.zoomed(WIDE, 900);
    seen(browser, name + "-zoomed", WIDE / 2);
    browser.screen(WIDE, 900, false);
    browser.print(PICTURES.resolve(name + ".pdf"));
  }

  private void seen(Browser browser, String name, int width) throws Exception {
    browser.until("document.documentElement.scrollWidth <= " + width);
    browser.picture(PICTURES.resolve(name + ".png"));
    boolean scrolls =
        width == PHONE && browser.text("location.pathname").matches("/compare|/run/\\d+/report");
    for (String barrier : browser.barriers()) {
      if (!(scrolls && barrier.startsWith(SCROLLS))) {
        barriers.add(name + ": " + barrier);
      }
    }
  }

  private void nothingWrong(Browser browser) {
    assertEquals(List.of(), barriers);
    assertEquals(List.of(), browser.complaints());
    assertEquals(List.of(), faults);
  }

  private void simulated(String sequence, String unit, String sheet, int... expected) {
    Spoken said =
        Spoken.by(
            "run",
            sequence,
            "--unit",
            unit,
            "--datasheet",
            sheet,
            "--simulated",
            "--unattended",
            "--batch",
            "B7",
            "--operator",
            "Ada",
            "--logbook",
            book().toString());
    assertTrue(
        IntStream.of(expected).anyMatch(c -> c == said.code()),
        said.code() + said.err() + said.out());
  }

  /** A datasheet that asks for more than a unit of this kind has. */
  private String strict() throws IOException {
    String text = Files.readString(Path.of(SHEET));
    String more =
        text.replace("lower: -150 ppm - 90 pA, upper: 150", "lower: 100 ppm + 90 pA, upper: 150")
            .replace(
                "compliance_voltage, range: all, lower: 13.5 V",
                "compliance_voltage, range: all, lower: 15.5 V");
    assertNotEquals(text, more);
    return Files.writeString(folder.resolve("strict.datasheet.yaml"), more).toString();
  }

  @Test
  void whatHasFailedAndWhatIsEmptyCanBeReadByEveryone() throws Exception {
    ended("sequences/quick-look.yaml");
  }

  @Tag("campaign")
  @Test
  void wholeNightsCanBeReadByEveryone() throws Exception {
    everyWay = true;
    ended("sequences/short-night.yaml");
  }

  private void ended(String sequence) throws Exception {
    try (Browser browser = Browser.start(folder)) {
      Logbook.openOrCreate(book()).close();
      try (WatchServer server = serve()) {
        browser.open(server.address() + "/");
        look(browser, "shelf-empty");
        browser.open(server.address() + "/bench");
        look(browser, "message");
        browser.forgive(); // there is no bench: its answer is 404
        simulated(sequence, "FX3-00020", SHEET, 0, 7);
        simulated(sequence, "FX3-00001", strict(), 1, 7);
        browser.open(server.address() + "/run/1");
        browser.until("document.getElementById('currents').querySelector('svg') !== null");
        look(browser, "passed");
        browser.open(server.address() + "/run/2");
        browser.until("document.getElementById('currents').querySelector('svg') !== null");
        look(browser, "failed");
        browser.open(server.address() + "/");
        look(browser, "shelf");
        twoAreCompared(browser);
        look(browser, "compared");
        browser.open(server.address() + "/run/2/report");
        browser.screen(WIDE, 900, false);
        seen(browser, "report", WIDE);
        nothingWrong(browser);
      }
    }
  }

  /** By keyboard alone, from the list of runs. */
  private static void twoAreCompared(Browser browser) throws Exception {
    for (String run : List.of("1", "2")) {
      String box = "document.querySelector('input[name=run][value=\"" + run + "\"]')";
      browser.text(box + ".focus()");
      browser.until("document.activeElement === " + box);
      browser.key(" ");
      browser.until(box + ".checked");
    }
    browser.key("Enter");
    browser.until("location.pathname === '/compare' && document.readyState === 'complete'");
    browser.until("document.body.innerText.includes('FX3-00020')");
    browser.until("document.body.innerText.includes('FX3-00001')");
  }

  @Tag("campaign")
  @Test
  void fourUnitsInOneChamberAndABrokenInterlockCanBeReadByEveryone() throws Exception {
    everyWay = true;
    FaultPlan alarm =
        FaultPlan.of(
            SimFault.of(
                SimFault.Kind.CHAMBER_ALARM, "chamber", new SimFault.AtTime(Duration.ofHours(10))));
    try (Served bench = Served.at(folder, alarm, List.of("1", "2", "3", "4"));
        Browser browser = Browser.start(folder)) {
      RunProcess run =
          RunProcess.start(
              folder,
              "run",
              "sequences/short-night.yaml",
              "--unit",
              "1=FX3-00042",
              "--unit",
              "2=FX3-00043",
              "--unit",
              "3=FX3-00044",
              "--unit",
              "4=FX3-00045",
              "--datasheet",
              SHEET,
              "--bench",
              bench.file(),
              "--speed",
              Integer.toString(Served.SPEED),
              "--unattended",
              "--logbook",
              book().toString());
      run.says(folder.resolve("err"), "point 1 of");
      try (WatchServer server = serve()) {
        browser.screen(WIDE, 900, false);
        browser.open(server.address() + "/run/1");
        browser.until("document.getElementById('together').innerText.includes('FX3-00045')");
        browser.picture(PICTURES.resolve("four-units.png"));
        assertEquals(4, run.ended(), run::said);
        browser.until(
            "document.getElementById('answer').textContent.startsWith('Stopped by an interlock')");
        look(browser, "breach");
        nothingWrong(browser);
      }
    }
  }

  @Test
  void aShiftOfBoardsIsFoundAmongTheRuns() throws Exception {
    boards(6);
  }

  @Tag("campaign")
  @Test
  void fiveHundredBoardsAreFoundAmongTheRuns() throws Exception {
    everyWay = true;
    boards(500);
  }

  private void boards(int n) throws Exception {
    String scans =
        IntStream.rangeClosed(1, n)
            .mapToObj(i -> String.format(java.util.Locale.ROOT, "FX3-%05d%n", i))
            .collect(Collectors.joining());
    Spoken said =
        Spoken.typing(
            scans + "end\n",
            "production",
            "sequences/production-board-test.yaml",
            "--datasheet",
            SHEET,
            "--simulated",
            "--operator",
            "Ada",
            "--shift",
            "early",
            "--batch",
            "B7",
            "--logbook",
            book().toString());
    assertEquals(1, said.code(), said.err());
    try (Browser browser = Browser.start(folder);
        WatchServer server = serve()) {
      browser.screen(WIDE, 900, false);
      browser.open(server.address() + "/");
      browser.until("document.querySelector('.verdict').innerText.includes('" + n + " runs')");
      look(browser, "boards-" + n);
      browser.open(server.address() + "/?failed=yes");
      browser.until("document.querySelector('.verdict').innerText.includes(' found')");
      look(browser, "boards-" + n + "-failed");
      nothingWrong(browser);
    }
  }
}
