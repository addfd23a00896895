// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import millrace.document.yaml.Node;
import millrace.fault.Faults;
import org.jspecify.annotations.Nullable;

/** A form that is named in the schema and may refer to itself. */
final class DefinedForm<T> implements Form<T> {
  private final String name;
  private final Supplier<Form<T>> supplier;

  /** Made when it is first needed; two threads may both make it, which does no harm. */
  private volatile @Nullable Form<T> made;

  DefinedForm(String name, Supplier<Form<T>> supplier) {
    this.name = name;
    this.supplier = supplier;
  }

  private Form<T> form() {
    Form<T> form = made;
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
  public Optional<T> read(Node node, Faults faults) {
    return form().read(node, faults);
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
