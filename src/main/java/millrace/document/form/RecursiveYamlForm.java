// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;
import org.jspecify.annotations.Nullable;

/** A form that is named in the schema and may refer to itself. */
final class RecursiveYamlForm<T> implements YamlForm<T> {
  private final String name;
  private final Supplier<YamlForm<T>> supplier;

  /** Made on first use; two threads may both make it, which is harmless. */
  private volatile @Nullable YamlForm<T> made;

  RecursiveYamlForm(String name, Supplier<YamlForm<T>> supplier) {
    this.name = name;
    this.supplier = supplier;
  }

  private YamlForm<T> form() {
    YamlForm<T> form = made;
    if (form == null) {
      form = supplier.get();
      made = form;
    }
    return form;
  }

  @Override
  public String inWords() {
    return form().inWords();
  }

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    return form().read(node, faults);
  }

  @Override
  public T sample() {
    return form().sample();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    if (!defs.containsKey(name)) {
      defs.put(name, true);
      defs.put(name, form().schema(defs));
    }
    return Map.of("$ref", "#/$defs/" + name);
  }
}
