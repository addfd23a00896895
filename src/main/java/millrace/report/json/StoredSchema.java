// SPDX-License-Identifier: Apache-2.0
package millrace.report.json;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;

/** The JSON Schema of a document for programs; it lies beside the code that writes the document. */
public enum StoredSchema {
  /** Of {@code analyze --json}. */
  RESULTS("results.schema.json"),
  /** Of {@code predict --json}. */
  PREDICTIONS("predictions.schema.json");

  private final String file;

  StoredSchema(String file) {
    this.file = file;
  }

  /**
   * The schema.
   *
   * @return a JSON document
   */
  public String text() {
    try (InputStream in = StoredSchema.class.getResourceAsStream(file)) {
      if (in == null) {
        throw new IllegalStateException(file + " is not in the jar");
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8).strip();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
