// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;

/** One form for a list or a single value, another for a map. */
record YamlListOrMapForm<T>(YamlForm<? extends T> items, YamlForm<? extends T> entries)
    implements YamlForm<T> {

  @Override
  public String inWords() {
    return items.inWords() + ", or " + entries.inWords();
  }

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    YamlForm<? extends T> form = node instanceof Node.Entries ? entries : items;
    return form.read(node, faults).map(v -> v);
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    return Map.of("anyOf", List.of(items.schema(defs), entries.schema(defs)));
  }
}
