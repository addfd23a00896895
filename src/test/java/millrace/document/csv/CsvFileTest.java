// SPDX-License-Identifier: Apache-2.0
package millrace.document.csv;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static java.nio.charset.StandardCharsets.UTF_8;
import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.Reader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class CsvFileTest {
  @TempDir Path folder;

  private Path file(byte[] content) throws IOException {
    return Files.write(folder.resolve("a.csv"), content);
  }

  private Path file(String content) throws IOException {
    return file(content.getBytes(UTF_8));
  }

  private static List<List<String>> rows(Path path) {
    List<List<String>> rows = new ArrayList<>();
    try (CsvFile csv = CsvFile.open(path)) {
      rows.add(csv.header());
      while (csv.next()) {
        List<String> row = new ArrayList<>();
        for (int i = 0; i < csv.header().size(); i++) {
          row.add(csv.field(i));
        }
        rows.add(row);
      }
      csv.throwIfAny();
    }
    return rows;
  }

  private String refused(Path path) {
    return assertThrows(BadInputException.class, () -> rows(path))
        .getMessage()
        .replace(folder.toString() + "/", "");
  }

  @Test
  void readsFieldsInQuotationMarksWithCommasAndLineBreaks() throws IOException {
    Path path = file("a,b\r\n1,\"x, \"\"y\"\"\r\nz\"\r\n");
    assertEquals(List.of(List.of("a", "b"), List.of("1", "x, \"y\"\r\nz")), rows(path));
  }

  @ParameterizedTest
  @ValueSource(strings = {"\n", "\r\n", "\r"})
  void takesEachLineEndingWithOrWithoutTheLast(String end) throws IOException {
    List<List<String>> expected = List.of(List.of("a", "b"), List.of("1", "2"));
    assertEquals(expected, rows(file("a,b" + end + "1,2" + end)));
    assertEquals(expected, rows(file("a,b" + end + "1,2")));
  }

  /** A version of the reading library lost such a row without a word. */
  @Test
  void keepsARowWhoseFieldHoldsALoneCarriageReturn() throws IOException {
    assertEquals(
        List.of(List.of("a"), List.of("1"), List.of("x\ry")), rows(file("a\n1\n\"x\ry\"\n")));
  }

  @Test
  void takesAByteOrderMarkOffTheFirstName() throws IOException {
    assertEquals(List.of("a", "b"), rows(file("\ufeffa,b\n1,2\n")).get(0));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          ''              | a.csv: the file is empty; expected a header row and rows of values. Check that this is the file you meant.
          a,b,a           | a.csv:1:5: column 'a' is there twice, first as column 1; expected once. Delete or rename one.
          a,,b            | a.csv:1:3: column 2 has no name; expected a name in the header. Name or delete it.
          a,b~1           | a.csv:2:1: the row has 1 field; expected 2, as in the header. Check commas and quotation marks.
          a,b~1,2,3       | a.csv:2:3: the row has 3 fields; expected 2, as in the header. Check commas and quotation marks; a decimal comma makes two fields of one.
          a,b~~1          | a.csv:3:1: the row has 1 field; expected 2, as in the header. Check commas and quotation marks.
          """)
  void saysWhereAFileIsNotATable(String content, String message) throws IOException {
    assertEquals(message, refused(file(content.replace('~', '\n'))));
  }

  @Test
  void saysWhereAQuotationMarkIsNotClosed() throws IOException {
    String message = refused(file("a,b\n1,2\n3,\"4\n5,6\n"));
    assertTrue(
        message.startsWith("a.csv:3:3: a quotation mark is not closed; expected a second one."),
        message);
  }

  @Test
  void saysWhereTheTextIsNotUtf8AnyMore() throws IOException {
    String message = refused(file("a,b\n1,2\n3,\u00b5\n".getBytes(ISO_8859_1)));
    assertTrue(message.contains("not UTF-8 text; expected a CSV file in UTF-8."), message);
  }

  /** As in a file of zeros as large as a disk: what is wrong with it must not wait for its end. */
  @Test
  @Timeout(60)
  void doesNotReadALineWithoutEndToTellWhereItIsWrong() throws IOException {
    CsvFieldPlaces places = new CsvFieldPlaces(Set.of(1L));
    places.read(
        new Reader() {
          @Override
          public int read(char[] into, int from, int most) {
            Arrays.fill(into, from, from + most, '0');
            return most;
          }

          @Override
          public void close() {}
        });
    assertEquals(new CsvFieldPlaces.Spot(1, 1), places.spot(1, 0));
  }

  /** Rows of a long file are cut out of it in pieces, ahead of who reads them. */
  @Test
  void aLongFileHasEveryRowInItsOrderAtItsLine() throws IOException {
    StringBuilder text = new StringBuilder("a,b\n");
    for (int k = 0; k < 5000; k++) {
      text.append(k).append(k % 1000 == 7 ? ",\"x\ny\"\n" : ",z\n");
    }
    try (CsvFile csv = CsvFile.open(file(text.toString()))) {
      long line = 2;
      for (int k = 0; k < 5000; k++) {
        assertTrue(csv.next());
        assertEquals(List.of(k + "", line + ""), List.of(csv.field(0), csv.line() + ""));
        line += csv.field(1).equals("x\ny") ? 2 : 1;
      }
      assertFalse(csv.next());
      assertEquals(text.length(), csv.bytes());
    }
  }

  @Test
  void aLongFileThatBreaksOffIsReadToThereAndSaysAllThatIsWrong() throws IOException {
    byte[] good = ("a\n" + "1\n".repeat(3000) + "1,2\n" + "1\n".repeat(1499)).getBytes(UTF_8);
    byte[] broken = Arrays.copyOf(good, good.length + 1);
    broken[good.length] = (byte) 0xff;
    String refusal = refused(file(broken));
    assertTrue(refusal.contains("a.csv:3002:1: the row has 2 fields"), refusal);
    assertTrue(refusal.contains("from here on the file is not UTF-8 text"), refusal);
  }

  @Test
  void aLongFileCanBeLeftInTheMiddle() throws IOException {
    Path path = file("a\n" + "1\n".repeat(20_000));
    try (CsvFile csv = CsvFile.open(path)) {
      for (int k = 0; k < 2_500; k++) {
        assertTrue(csv.next());
      }
    }
    assertEquals(20_001, rows(path).size());
  }

  @Test
  void refusesWhatIsNoFile() throws IOException {
    assertEquals(
        folder + ": this is a directory; expected a CSV file. Name the file in it.",
        assertThrows(BadInputException.class, () -> CsvFile.open(folder)).getMessage());
    assertEquals(
        "b.csv: there is no such file; expected a CSV file. Check the path.",
        refused(folder.resolve("b.csv")));
    assertEquals(
        "/dev/null: this is a device or pipe; expected a file. Save it as a file first.",
        refused(Path.of("/dev/null")));
  }

  @Test
  void listsTheFirstTwentyFaultsAndCountsTheRest() throws IOException {
    String message = refused(file("a,b\n" + "1\n".repeat(123)));
    String[] lines = message.split("\n");
    assertEquals(21, lines.length);
    assertTrue(lines[19].startsWith("a.csv:21:1: "), lines[19]);
    assertEquals("and 103 more.", lines[20]);
  }

  @Test
  void hashesAndCountsTheBytesOfTheFile() throws IOException {
    Path path = file("\ufeffa\n1\n");
    try (CsvFile csv = CsvFile.open(path)) {
      while (csv.next()) {
        assertEquals("1", csv.field(0));
      }
      assertEquals(7, csv.bytes());
      // Computed with sha256sum.
      assertEquals(
          "3d32ed5d97a42c7ca9387f63ac0f08dceb6b4993089f807c6d56a35db7d70c36", csv.sha256());
    }
  }

  /** A table, its text with random quoting and line ends, and where each field stands in it. */
  private static final class Draft {
    private static final String LETTERS = "ab1.-+eE ,;\"\n\r\t\u00b5\u03a9\ud83d\ude00";
    private static final String[] ENDS = {"\n", "\r\n", "\r"};

    private final SplittableRandom random;
    private final String end;
    private final StringBuilder text = new StringBuilder();
    private final List<List<String>> rows = new ArrayList<>();
    private final List<List<FilePlace>> places = new ArrayList<>();
    private int line = 1;
    private int column = 1;

    Draft(long seed) {
      random = new Seeds(seed).stream("csv");
      end = ENDS[random.nextInt(ENDS.length)];
      int width = 1 + random.nextInt(5);
      int height = 2 + random.nextInt(8);
      for (int row = 0; row < height; row++) {
        row(row, width);
      }
    }

    private void row(int row, int width) {
      rows.add(new ArrayList<>());
      places.add(new ArrayList<>());
      for (int i = 0; i < width; i++) {
        put(i == 0 ? "" : ",");
        // An empty line is no row, and a lone empty field would be one.
        field(row == 0 ? "c" + i : i == 0 ? "x" + word() : word());
      }
      put(end);
    }

    private void field(String value) {
      rows.get(rows.size() - 1).add(value);
      places.get(places.size() - 1).add(new FilePlace("-", line, column));
      boolean needed = value.matches("(?s).*[,\"\r\n].*");
      boolean quoted = needed || random.nextInt(3) == 0;
      put(quoted ? '"' + value.replace("\"", "\"\"") + '"' : value);
    }

    private String word() {
      StringBuilder word = new StringBuilder();
      int[] letters = LETTERS.codePoints().toArray();
      for (int i = random.nextInt(6); i > 0; i--) {
        word.appendCodePoint(letters[random.nextInt(letters.length)]);
      }
      return word.toString();
    }

    private void put(String more) {
      text.append(more);
      for (int i = 0; i < more.length(); i++) {
        char c = more.charAt(i);
        boolean second =
            c == '\n' && text.length() - more.length() + i > 0 && before(more, i) == '\r';
        if (second) {
          continue;
        }
        boolean breaks = c == '\n' || c == '\r';
        line += breaks ? 1 : 0;
        column = breaks ? 1 : column + 1;
      }
    }

    private char before(String more, int i) {
      return text.charAt(text.length() - more.length() + i - 1);
    }
  }

  private static LongStream seeds() {
    return LongStream.range(0, 300);
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void readsBackWhateverWasWritten(long seed) throws IOException {
    Draft draft = new Draft(seed);
    assertEquals(draft.rows, rows(file(draft.text.toString())), draft.text.toString());
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void findsTheLineAndColumnOfEachField(long seed) throws IOException {
    Draft draft = new Draft(seed);
    int wanted = draft.random.nextInt(draft.rows.get(0).size());
    Path path = file(draft.text.toString());
    BadInputException refused =
        assertThrows(
            BadInputException.class,
            () -> {
              try (CsvFile csv = CsvFile.open(path)) {
                while (csv.next()) {
                  csv.fault(wanted, "found", "expected", "");
                }
                csv.throwIfAny();
              }
            });
    List<FilePlace> expected =
        draft.places.stream()
            .skip(1)
            .map(
                row ->
                    new FilePlace(
                        path.toString(), row.get(wanted).line(), row.get(wanted).column()))
            .toList();
    assertEquals(expected, refused.faults().stream().map(InputFault::place).toList());
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void readsAnyBytesOrSaysWhyNot(long seed) throws IOException {
    SplittableRandom random = new Seeds(seed).stream("bytes");
    byte[] bytes = new byte[random.nextInt(2000)];
    String often = "a,b\n\"\r1";
    for (int i = 0; i < bytes.length; i++) {
      boolean plain = random.nextInt(20) > 0;
      bytes[i] =
          (byte) (plain ? often.charAt(random.nextInt(often.length())) : random.nextInt(256));
    }
    Path path = file(bytes);
    try {
      assertFalse(rows(path).isEmpty());
    } catch (BadInputException e) {
      assertTrue(e.faults().size() <= BadInputException.SHOWN, e.getMessage());
      notEmpty(e.faults())
          .forEach(f -> assertTrue(f.place().toString().startsWith(path.toString())));
    }
  }
}
