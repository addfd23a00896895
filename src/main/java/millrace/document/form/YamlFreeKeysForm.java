// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;

/** Free keys, all with values of one form, which may depend on the key. */
record YamlFreeKeysForm<T>(String keys, Function<String, YamlForm<T>> value)
    implements YamlForm<Map<String, T>> {

  private YamlForm<T> anyValue() {
    return value.apply("name");
  }

  @Override
  public String inWords() {
    return "a map from " + keys + " to " + anyValue().inWords();
  }

  @Override
  public Optional<Map<String, T>> read(Node node, InputFaultList faults) {
    if (!(node instanceof Node.Entries entries)) {
      YamlNodeShapes.wrong(node, inWords(), faults);
      return Optional.empty();
    }
    int before = faults.count();
    Map<String, T> map = new LinkedHashMap<>();
    for (Node.Entry entry : entries.entries()) {
      if (entry.key().isBlank()) {
        faults.add(entry.place(), "a key is blank", keys);
      }
      value.apply(entry.key()).read(entry.value(), faults).ifPresent(v -> map.put(entry.key(), v));
    }
    return faults.count() == before
        ? Optional.of(Collections.unmodifiableMap(map))
        : Optional.empty();
  }

  @Override
  public Map<String, T> sample() {
    return Map.of();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    Map<String, Object> schema = new LinkedHashMap<>();
    schema.put("type", "object");
    schema.put("description", "keys: " + keys);
    schema.put("propertyNames", Map.of("pattern", "\\S"));
    schema.put("additionalProperties", anyValue().schema(defs));
    return schema;
  }
}
