// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ImportCommandIT {
  private static final String GOOD =
      "unit,range,nominal_A,load_ohm,current_A\n"
          + "BX5-0001,1mA,0.001,100,0.00100002\nBX5-0001,1mA,0.001,100,0.00100003\n"
          + "BX5-0001,1mA,0.001,4700,\nBX5-0002,1mA,0.001,100,0.00100001\n";

  private static final String SHEET =
      "datasheet: BX5 excitation source\nserial: 'BX5-[0-9]{4}'\nranges:\n  1mA: {nominal: 1 mA}\n";

  @TempDir Path folder;

  private Spoken millrace(String... words) {
    Spoken said = Spoken.by(words);
    return new Spoken(said.code(), plain(said.out()), plain(said.err()));
  }

  private String plain(String text) {
    return text.replace(folder + "/", "");
  }

  private Spoken imports(Path file, String... more) {
    List<String> words = new ArrayList<>(List.of("import", file.toString()));
    words.addAll(List.of("--logbook", folder.resolve("a.db").toString()));
    words.addAll(List.of(more));
    return millrace(words.toArray(String[]::new));
  }

  private Path file(String name, String content) throws IOException {
    return Files.writeString(folder.resolve(name), content);
  }

  private void assertNothingIsImported() {
    assertFalse(Files.exists(folder.resolve("a.db")), "a logbook was made");
  }

  @Test
  void printsWhatItImported() throws IOException {
    Spoken outcome = imports(file("night.csv", GOOD));
    assertEquals("", outcome.err().replaceFirst("(?m)^millrace: run 1: line 4: .*\\R", ""));
    assertEquals(
        "Imported 3 readings at 2 points, 1 of them flagged, as run 1 of unit 'BX5-0001' into"
            + " a.db.\n"
            + "Imported 1 reading at 1 point as run 2 of unit 'BX5-0002' into a.db.\n",
        outcome.out());
    assertEquals(0, outcome.code());
  }

  @Test
  void printsTheRunNumbersAloneWhereAskedTo() throws IOException {
    Path night = file("night.csv", GOOD);
    assertEquals("1\n2\n", imports(night, "--quiet").out());
    assertEquals("3\n4\n", imports(night, "--quiet").out());
  }

  @Test
  void keepsTheDatasheetAndSaysWhatDoesNotFitToIt() throws IOException {
    Path sheet = file("sheet.yaml", SHEET);
    Spoken outcome =
        imports(
            file("night.csv", "unit,range,nominal_A,current_A\nX1,1 mA,0.001,0.001\n"),
            "--datasheet",
            sheet.toString());
    assertEquals(
        "millrace: run 1: 'X1' is no serial number of BX5 excitation source, which look like"
            + " BX5-0000 (pattern BX5-[0-9]{4})\n"
            + "millrace: run 1: the datasheet has no range '1 mA', so no limit holds for it. Did"
            + " you mean '1mA'?\n",
        outcome.err());
    try (Logbook logbook = Logbook.readOnly(folder.resolve("a.db"))) {
      assertEquals(2, logbook.reader(1).files().size());
      assertEquals(
          SHEET, new String(logbook.reader(1).content(logbook.reader(1).files().get(1)), UTF_8));
    }
  }

  @Test
  void saysOfEachUnitWhatIsItsOwnAndOnceWhatManyShare() throws IOException {
    Path sheet = file("sheet.yaml", SHEET);
    Path night =
        file(
            "night.csv",
            "unit,range,nominal_A,current_A\nX1,1 mA,0.001,0.001\nBX5-0002,1 mA,0.001,0.001\n");
    List<String> lines = imports(night, "--datasheet", sheet.toString()).err().lines().toList();
    assertEquals(2, lines.size(), lines.toString());
    assertTrue(lines.get(0).startsWith("millrace: run 1: 'X1' is no serial number"), lines.get(0));
    assertTrue(
        lines.get(1).startsWith("millrace: 2 runs from 1 to 2: the datasheet has no range"),
        lines.get(1));
  }

  @Test
  void refusesADatasheetThatDoesNotValidateBeforeAnythingIsWritten() throws IOException {
    Path sheet = file("sheet.yaml", SHEET.replace("nominal", "nominale"));
    Spoken outcome = imports(file("night.csv", GOOD), "--datasheet", sheet.toString());
    assertEquals(2, outcome.code());
    assertTrue(outcome.err().contains("sheet.yaml:4:"), outcome.err());
    assertNothingIsImported();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          range;nominal_A;current_A~1mA;0,001;0,001 | night.csv:1:1: the columns are separated by semicolons
          range,nominal_A,current_A~1mA,0,001,0,001 | night.csv:2:7: the row has 5 fields; expected 3, as in the header. Check commas and quotation marks; a decimal comma makes two fields of one.
          range,nominal_A,current_A~1mA,"0,001",1   | night.csv:2:5: '0,001' has a decimal comma; expected a point, as in '0.001'.
          range,nominal_A,current_mA~1mA,0.001,1    | Did you mean it by 'current_mA'?
          range,nominal_A,current_A~1mA,1 mA,0.001  | night.csv:2:5: column 'nominal_A' has '1 mA'
          range,nominal_A,curent_A~1mA,0.001,1      | Did you mean it by 'curent_A'?
          range,nominal_A,range,current_A~a,1,b,1   | night.csv:1:17: column 'range' is there twice, first as column 1
          ''                                        | night.csv: the file is empty
          range,nominal_A,current_A                 | there is no row below the header
          """)
  void refusesAWrongFileWithCodeTwoAndImportsNothing(String content, String message)
      throws IOException {
    Spoken outcome = imports(file("night.csv", content.replace('~', '\n')));
    assertEquals(2, outcome.code());
    assertTrue(outcome.err().contains(message), outcome.err());
    assertFalse(outcome.err().contains("fault of Millrace"), outcome.err());
    assertEquals("", outcome.out());
    assertNothingIsImported();
  }

  @Test
  void refusesWhatIsNoTextAFolderAndNothing() throws IOException {
    byte[] noise = new byte[5000];
    Seeds seeds = new Seeds(1);
    SplittableRandom random = seeds.stream("noise");
    for (int i = 0; i < noise.length; i++) {
      noise[i] = (byte) random.nextInt(256);
    }
    Path binary = Files.write(folder.resolve("noise.csv"), noise);
    for (Path path : List.of(binary, folder, folder.resolve("none.csv"))) {
      Spoken outcome = imports(path);
      assertEquals(2, outcome.code(), outcome.err());
      assertTrue(outcome.err().startsWith("millrace: "), outcome.err());
      assertFalse(outcome.err().contains("fault of Millrace"), outcome.err());
      assertNothingIsImported();
    }
  }

  @Test
  void endsWithTheLogbooksOwnCodeWhereThatCannotBeWritten() throws IOException {
    Files.writeString(folder.resolve("a.db"), "this is no logbook, and long enough to be read");
    Spoken outcome = imports(file("night.csv", GOOD));
    assertEquals(5, outcome.code(), outcome.err());
  }

  @Test
  void leavesTheRunsThatWereThereAloneWhenItRefuses() throws IOException {
    assertEquals(0, imports(file("night.csv", GOOD)).code());
    assertEquals(2, imports(file("bad.csv", GOOD.replace("100", "-100"))).code());
    try (Logbook logbook = Logbook.readOnly(folder.resolve("a.db"))) {
      assertEquals(2, logbook.runs(RunFilter.ALL).size());
    }
  }

  @Test
  void showsItsHelpWithAnExample() {
    Spoken outcome = millrace("import", "--help");
    assertEquals(0, outcome.code());
    assertTrue(outcome.out().contains("millrace import night.csv"), outcome.out());
  }
}
