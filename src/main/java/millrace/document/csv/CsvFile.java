// SPDX-License-Identifier: Apache-2.0
package millrace.document.csv;

import de.siegmar.fastcsv.reader.CsvParseException;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.NumberText;

/**
 * Reads a CSV file row by row (IETF, RFC 4180, 2005; UTF-8, a byte-order mark is accepted; the
 * first row names the columns), of any length, and collects its faults with their places. Rows that
 * have another number of fields than the header are noted as faults and left out. Of a long file
 * rows are read ahead in another thread. Single-threaded for its user; close it.
 */
public final class CsvFile implements AutoCloseable {
  private static final String MEANT = "Check that this is the file you meant.";
  private static final FilePlace NOWHERE = new FilePlace("-", 0, 0);

  private final Path path;
  private final HashingInputStream bytes;
  private final Reader reader;
  private final CsvRows rows;
  private final List<String> header;
  private final CsvFaults faults;
  private List<String> fields = List.of();
  private long line;
  private boolean ended;

  private CsvFile(Path path, HashingInputStream bytes, Reader reader) {
    this.path = path;
    this.bytes = bytes;
    this.reader = reader;
    this.faults = new CsvFaults(path);
    this.rows = new CsvRows(reader);
    this.header = readHeader();
  }

  /**
   * Opens a file and reads its header.
   *
   * @param path the file
   * @return before the first row
   * @throws BadInputException if it is missing, no regular file, not readable, empty, not UTF-8, or
   *     its header names a column twice or not at all
   */
  public static CsvFile open(Path path) {
    HashingInputStream bytes = stream(path);
    Reader reader =
        new InputStreamReader(
            bytes,
            StandardCharsets.UTF_8
                .newDecoder()
                .onMalformedInput(CodingErrorAction.REPORT)
                .onUnmappableCharacter(CodingErrorAction.REPORT));
    boolean done = false;
    try {
      CsvFile file = new CsvFile(path, bytes, reader);
      done = true;
      return file;
    } finally {
      if (!done) {
        closeQuietly(reader, path);
      }
    }
  }

  private static HashingInputStream stream(Path path) {
    if (Files.isDirectory(path)) {
      throw refusal(path, "this is a directory", "a CSV file", "Name the file in it.");
    }
    if (Files.exists(path) && !Files.isRegularFile(path)) {
      throw refusal(path, "this is a device or pipe", "a file", "Save it as a file first.");
    }
    try {
      InputStream in = Files.newInputStream(path);
      return new HashingInputStream(in);
    } catch (NoSuchFileException e) {
      throw refusal(path, "there is no such file", "a CSV file", "Check the path.");
    } catch (AccessDeniedException e) {
      throw refusal(path, "the file may not be read", "a readable file", "Check its permissions.");
    } catch (IOException e) {
      throw refusal(
          path, "the file cannot be read: " + FileMessageText.reason(e), "a readable file", MEANT);
    }
  }

  private static void closeQuietly(Reader reader, Path path) {
    try {
      reader.close();
    } catch (IOException e) {
      throw refusal(path, "the file cannot be closed: " + FileMessageText.reason(e), "", "");
    }
  }

  private List<String> readHeader() {
    if (!advance()) {
      faults.throwIfAny();
      throw refusal(path, "the file is empty", "a header row and rows of values", MEANT);
    }
    List<String> names = fields.stream().map(String::strip).toList();
    Set<String> seen = new HashSet<>();
    for (int i = 0; i < names.size(); i++) {
      checkName(names, i, seen);
    }
    faults.throwIfAny();
    return names;
  }

  private void checkName(List<String> names, int i, Set<String> seen) {
    String name = names.get(i);
    if (name.isEmpty()) {
      fault(i, "column " + (i + 1) + " has no name", "a name in the header", "Name or delete it.");
    } else if (!seen.add(name)) {
      int first = names.indexOf(name) + 1;
      fault(
          i,
          "column " + FileMessageText.quoted(name) + " is there twice, first as column " + first,
          "once",
          "Delete or rename one.");
    }
  }

  /**
   * The names of the columns, without blanks around them.
   *
   * @return in the order of the file
   */
  public List<String> header() {
    return header;
  }

  /**
   * Steps to the next row that has as many fields as the header.
   *
   * @return false at the end of the file
   */
  public boolean next() {
    while (advance()) {
      if (fields.size() == header.size()) {
        return true;
      }
      fault(
          Math.min(fields.size(), header.size()) - 1,
          "the row has " + NumberText.counted(fields.size(), "field"),
          header.size() + ", as in the header",
          fields.size() < header.size()
              ? "Check commas and quotation marks."
              : "Check commas and quotation marks; a decimal comma makes two fields of one.");
    }
    return false;
  }

  private boolean advance() {
    if (ended) {
      return false;
    }
    try {
      Optional<CsvRows.Row> row = rows.next();
      if (row.isEmpty()) {
        end();
        return false;
      }
      line = row.get().line();
      fields = row.get().fields();
      return true;
    } catch (CsvParseException e) {
      ended = true;
      line = Math.max(1, line + 1);
      faults.add(line, 0, new InputFault(NOWHERE, reason(e), "CSV as in RFC 4180", quotesRemedy()));
    } catch (UncheckedIOException e) {
      ended = true;
      unreadable(e.getCause());
    }
    return false;
  }

  private void end() {
    ended = true;
    if (bytes.oddQuotes()) {
      faults.add(
          line,
          Math.max(0, fields.size() - 1),
          new InputFault(
              NOWHERE, "a quotation mark is not closed", "a second one", quotesRemedy()));
    }
  }

  private static String quotesRemedy() {
    return "A field with a comma, quotation mark or line break stands in quotation marks, and"
        + " quotation marks inside it are doubled.";
  }

  private static String reason(CsvParseException e) {
    Throwable cause = e.getCause() == null ? e : e.getCause();
    return "this is not CSV: " + FileMessageText.plainly(String.valueOf(cause.getMessage()));
  }

  private void unreadable(IOException e) {
    boolean encoding = e instanceof CharacterCodingException;
    faults.add(
        line + 1,
        0,
        encoding
            ? new InputFault(
                NOWHERE,
                "from here on the file is not UTF-8 text",
                "a CSV file in UTF-8",
                "Save it as CSV UTF-8, or check that this is the file you meant.")
            : new InputFault(
                NOWHERE,
                "the file cannot be read: " + FileMessageText.reason(e),
                "a readable file",
                MEANT));
  }

  /**
   * One field of the row.
   *
   * @param column its column, from 0
   * @return as written, quotation marks taken off
   */
  public String field(int column) {
    return fields.get(column);
  }

  /**
   * The line that the row begins in.
   *
   * @return from 1
   */
  public long line() {
    return line;
  }

  /**
   * Notes a fault in the row.
   *
   * @param column the column, from 0
   * @param found what was found
   * @param expected what was expected
   * @param remedy what to do; may be empty
   */
  public void fault(int column, String found, String expected, String remedy) {
    faults.add(line, column, new InputFault(NOWHERE, found, expected, remedy));
  }

  /**
   * Tells how many faults were noted.
   *
   * @return 0 or more
   */
  public long faults() {
    return faults.count();
  }

  /**
   * Ends with all faults, if there are any: the first with their places, the rest counted.
   *
   * @throws BadInputException if any fault was noted
   */
  public void throwIfAny() {
    faults.throwIfAny();
  }

  /**
   * SHA-256 of the whole file, once {@link #next} has answered false.
   *
   * @return 64 lower-case hexadecimal digits
   */
  public String sha256() {
    return bytes.sha256();
  }

  /**
   * The length of the file, once {@link #next} has answered false.
   *
   * @return bytes
   */
  public long bytes() {
    return bytes.count();
  }

  @Override
  public void close() {
    rows.close();
    closeQuietly(reader, path);
  }

  private static BadInputException refusal(
      Path path, String found, String expected, String remedy) {
    return new BadInputException(
        new InputFault(FilePlace.of(path.toString()), found, expected, remedy));
  }
}
