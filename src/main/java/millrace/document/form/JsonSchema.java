// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import java.util.LinkedHashMap;
import java.util.Map;

/** Prints a form as a JSON Schema document (draft 2020-12). */
public final class JsonSchema {
  private JsonSchema() {}

  /**
   * The schema of a whole file.
   *
   * @param title what the file is
   * @param form its form
   * @return the schema as indented JSON
   */
  public static String print(String title, YamlForm<?> form) {
    Map<String, Object> defs = new LinkedHashMap<>();
    Map<String, Object> rule = form.schema(defs);
    Map<String, Object> schema = new LinkedHashMap<>();
    schema.put("$schema", "https://json-schema.org/draft/2020-12/schema");
    schema.put("title", title);
    schema.putAll(rule);
    if (!defs.isEmpty()) {
      schema.put("$defs", defs);
    }
    try {
      return new ObjectMapper()
          .enable(SerializationFeature.INDENT_OUTPUT)
          .writeValueAsString(schema);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a schema of plain maps can always be written", e);
    }
  }
}
