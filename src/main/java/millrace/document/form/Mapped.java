// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import millrace.document.yaml.Node;
import millrace.fault.Faults;

/** A form whose value is made into another. */
record Mapped<S, T>(Form<S> form, BiFunction<Node, S, T> make) implements Form<T> {

  @Override
  public String inWords() {
    return form.inWords();
  }

  @Override
  public Optional<T> read(Node node, Faults faults) {
    return form.read(node, faults).flatMap(value -> made(node, value, faults));
  }

  private Optional<T> made(Node node, S value, Faults faults) {
    try {
      return Optional.of(make.apply(node, value));
    } catch (IllegalArgumentException e) {
      faults.add(Refusal.of(e, node.place()));
      return Optional.empty();
    }
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    return form.schema(defs);
  }
}
