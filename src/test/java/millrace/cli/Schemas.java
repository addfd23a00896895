// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import millrace.cli.draft.SchemaCommand;
import org.snakeyaml.engine.v2.api.Load;
import org.snakeyaml.engine.v2.api.LoadSettings;

/** Validates files by the schemas that Millrace prints, with a validator that is not its own. */
final class Schemas {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final SchemaRegistry REGISTRY =
      SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12);

  private Schemas() {}

  static List<String> complaints(SchemaCommand.Kind kind, JsonNode document) {
    Schema schema = REGISTRY.getSchema(json(SchemaCommand.schema(kind)));
    return schema.validate(document).stream().map(e -> e.toString()).toList();
  }

  static List<String> complaintsOfTheSchemaItself(SchemaCommand.Kind kind) {
    Schema meta =
        REGISTRY.getSchema(SchemaLocation.of(SpecificationVersion.DRAFT_2020_12.getDialectId()));
    return meta.validate(json(SchemaCommand.schema(kind))).stream().map(e -> e.toString()).toList();
  }

  static JsonNode json(String text) {
    try {
      return JSON.readTree(text);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static JsonNode yaml(Path file) {
    try {
      return yaml(Files.readString(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** YAML as an editor sees it: the plain JSON schema of YAML 1.2. */
  static JsonNode yaml(String text) {
    return JSON.valueToTree(new Load(LoadSettings.builder().build()).loadFromString(text));
  }
}
