// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Large letters made of one character, readable across a room. */
public final class BlockLetters {
  private static final String FILE = "block-letters.txt";
  private static final int ROWS = 5;
  private static final String GAP = "  ";
  private static final Map<String, List<String>> KNOWN = read();

  private BlockLetters() {}

  private static Map<String, List<String>> read() {
    Map<String, List<String>> known = new HashMap<>();
    List<String> rows = new ArrayList<>();
    for (String line : text().lines().toList()) {
      if (line.startsWith("letter ") || line.startsWith("shape ")) {
        rows = new ArrayList<>();
        known.put(line.substring(line.indexOf(' ') + 1), rows);
      } else if (line.startsWith("\"")) {
        rows.add(line.substring(1, line.length() - 1));
      }
    }
    return known;
  }

  private static String text() {
    try (InputStream in = BlockLetters.class.getResourceAsStream(FILE)) {
      if (in == null) {
        throw new IllegalStateException("the program lacks its own file " + FILE);
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** A shape with a word beside it, five lines; unknown letters are left out. */
  public static List<String> of(String shape, String word) {
    List<String> lines = new ArrayList<>();
    for (int row = 0; row < ROWS; row++) {
      StringBuilder line = new StringBuilder(piece(shape, row)).append(GAP);
      for (String letter : word.split("")) {
        line.append(piece(letter.isBlank() ? "blank" : letter, row)).append(GAP);
      }
      lines.add(line.toString().stripTrailing());
    }
    return lines;
  }

  private static String piece(String name, int row) {
    return Optional.ofNullable(KNOWN.get(name)).map(rows -> rows.get(row)).orElse("");
  }
}
