// SPDX-License-Identifier: Apache-2.0
package millrace.analysis;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.quantity.NumberText;

/** Reference values in the test resources, read by name. */
public final class Reference {
  private Reference() {}

  /** A JSON file of the folder. */
  public static JsonNode json(String path) {
    try {
      return new ObjectMapper().readTree(text(path));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The rows of a CSV file without quotes, by column name. */
  public static List<Map<String, String>> rows(String path) {
    List<Map<String, String>> rows = new ArrayList<>();
    String[] lines = text(path).split("\\R");
    String[] names = lines[0].split(",");
    for (int i = 1; i < lines.length; i++) {
      String[] cells = lines[i].split(",", -1);
      Map<String, String> row = new LinkedHashMap<>();
      for (int k = 0; k < names.length; k++) {
        row.put(names[k], cells[k]);
      }
      rows.add(row);
    }
    return rows;
  }

  /** A number in a cell. */
  public static double number(Map<String, String> row, String column) {
    return NumberText.parse(row.get(column)).orElseThrow();
  }

  /** A whole file. */
  public static String text(String path) {
    try (InputStream in = Reference.class.getResourceAsStream("/millrace/reference/" + path)) {
      if (in == null) {
        throw new IllegalArgumentException("no reference file " + path);
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
