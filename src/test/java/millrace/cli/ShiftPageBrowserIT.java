// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.Browser;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunSummary;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * A shift of boards at a real browser, by keyboard and scanner alone. What was seen stays in
 * target/shift as pictures, for a person to look at.
 */
@Timeout(600)
class ShiftPageBrowserIT {
  private static final Path PICTURES = Path.of("target", "shift");
  private static final Pattern ADDRESS = Pattern.compile("(http://localhost:\\d+)/shift");

  @TempDir private Path folder;

  private RunProcess shift(String... more) throws Exception {
    List<String> words =
        new java.util.ArrayList<>(
            List.of(
                "production",
                "sequences/production-board-test.yaml",
                "--datasheet",
                "examples/fx-3.datasheet.yaml",
                "--simulated",
                "--operator",
                "Ada",
                "--shift",
                "early",
                "--page",
                "--port",
                "0",
                "--logbook",
                folder.resolve("shift.db").toString()));
    words.addAll(List.of(more));
    RunProcess run = RunProcess.attended(folder, words.toArray(String[]::new));
    run.says(folder.resolve("out"), "/shift");
    return run;
  }

  private String address() throws Exception {
    Matcher found = ADDRESS.matcher(Files.readString(folder.resolve("out")));
    assertTrue(found.find(), "no address was shown");
    return found.group(1);
  }

  private static void scan(Browser browser, String words) throws Exception {
    browser.until("document.querySelector('.asked').textContent.startsWith('Scan a board')");
    browser.type(words);
    browser.key("Enter");
  }

  private static String answer() {
    return "document.getElementById('answer').textContent.trim()";
  }

  /** Takes a picture for people, and looks for what keeps somebody from reading or using it. */
  private static void picture(Browser browser, String name) throws Exception {
    browser.picture(PICTURES.resolve(name + ".png"));
    assertEquals(List.of(), browser.barriers(), name);
  }

  @Test
  void fiveBoardsAreTestedByKeyboardAndOneFails() throws Exception {
    RunProcess run = shift();
    try (Browser browser = Browser.start(folder)) {
      browser.screen(1280, 800, false);
      browser.open(address() + "/shift");
      browser.until(answer() + " === 'READY'");
      for (int i : List.of(20, 21, 22)) {
        scan(browser, "FX3-000" + i);
        browser.until(
            "document.getElementById('why').textContent.includes('FX3-000" + i + ": PASS')");
      }
      picture(browser, "pass");
      scan(browser, "FX3-00001");
      browser.until(answer() + ".endsWith('FAIL')");
      browser.until("document.getElementById('why').textContent.includes('beyond its limit')");
      picture(browser, "fail");

      browser.text("document.activeElement.blur()");
      browser.until("document.activeElement.id === 'scan'");
      browser.text("document.querySelector('#shift a').focus()");
      scan(browser, "FX3-00001");
      browser.until(
          "document.querySelector('.asked').textContent.startsWith('Number of the cause')");
      picture(browser, "tested-before");
      browser.type("FX3-00023");
      browser.key("Enter");
      browser.until(answer() + ".endsWith('REFUSED')");
      picture(browser, "refused");
      scan(browser, "FX3-00023");
      browser.until("document.getElementById('why').textContent.includes('FX3-00023: PASS')");
      browser.screen(390, 844, true);
      browser.until("document.documentElement.scrollWidth <= 390");
      picture(browser, "phone-dark");
      scan(browser, "end");
      browser.until(answer() + " === 'END'");
      assertEquals(List.of(), browser.complaints());
    }
    assertEquals(1, run.ended(), run::said);
    try (Logbook book = Logbook.readOnly(folder.resolve("shift.db"))) {
      List<String> units = book.runs(RunFilter.ALL).stream().map(r -> r.start().unit()).toList();
      assertEquals(List.of("FX3-00020", "FX3-00021", "FX3-00022", "FX3-00001", "FX3-00023"), units);
    }
  }

  @Test
  void anAnswerToAQuestionThatIsGoneConfirmsNothing() throws Exception {
    RunProcess run = shift("--reference", "FX3-00099");
    try (Browser browser = Browser.start(folder)) {
      browser.open(address() + "/shift");
      browser.until(answer() + ".endsWith('LOCKED')");
      picture(browser, "locked");
      scan(browser, "FX3-00099");
      browser.until(answer() + ".endsWith('BENCH OK')");
      picture(browser, "checked");
      String send =
          "(async () => { const f = document.querySelector('.scan'); const w = new"
              + " URLSearchParams(new FormData(f)); w.set('number', '1'); w.set('scan',"
              + " 'FX3-00020'); const a = await fetch(f.action, {method: 'POST', headers:"
              + " {'X-Page-Script': 'yes'}, body: w}); window.late = await a.text(); })()";
      browser.text(send);
      browser.until("window.late && window.late.includes('the question has changed meanwhile')");
      scan(browser, "end");
      browser.until(answer() + " === 'END'");
    }
    assertEquals(0, run.ended(), run::said);
    try (Logbook book = Logbook.readOnly(folder.resolve("shift.db"))) {
      assertEquals(
          List.of("FX3-00099"),
          book.runs(RunFilter.ALL).stream().map(RunSummary::start).map(s -> s.unit()).toList());
    }
  }
}
