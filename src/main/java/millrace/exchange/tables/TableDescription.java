// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Map;
import tech.tablesaw.api.ColumnType;
import tech.tablesaw.columns.Column;

/**
 * The description of the files of a folder: columns with their types, keys and links, made from the
 * tables themselves.
 */
final class TableDescription {
  private static final Map<ColumnType, String> TYPES =
      Map.of(ColumnType.LONG, "integer", ColumnType.DOUBLE, "number", ColumnType.STRING, "string");

  private TableDescription() {}

  static String of(List<TableFile> files) {
    ObjectNode document = JsonNodeFactory.instance.objectNode();
    document.put("profile", "tabular-data-package");
    document.put("name", "millrace-runs");
    ArrayNode resources = document.putArray("resources");
    files.forEach(file -> describe(resources.addObject(), file));
    return document.toPrettyString() + "\n";
  }

  private static void describe(ObjectNode node, TableFile file) {
    LinkedTable table = file.table();
    node.put("profile", "tabular-data-resource");
    node.put("name", table.name());
    node.put("path", file.name());
    node.put("title", table.title());
    node.put("encoding", "utf-8");
    ObjectNode schema = node.putObject("schema");
    ArrayNode fields = schema.putArray("fields");
    for (Column<?> column : file.columns()) {
      fields.addObject().put("name", column.name()).put("type", TYPES.get(column.type()));
    }
    if (!table.key().isEmpty()) {
      table.key().forEach(schema.putArray("primaryKey")::add);
    }
    if (!table.links().isEmpty()) {
      ArrayNode links = schema.putArray("foreignKeys");
      table.links().forEach(link -> describe(links.addObject(), link));
    }
  }

  private static void describe(ObjectNode node, LinkedTable.Link link) {
    link.columns().forEach(node.putArray("fields")::add);
    ObjectNode reference = node.putObject("reference").put("resource", link.table());
    link.columns().forEach(reference.putArray("fields")::add);
  }
}
