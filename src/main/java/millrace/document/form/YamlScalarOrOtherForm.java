// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;

/** One form for a single value, another for anything else. */
record YamlScalarOrOtherForm<T>(YamlForm<? extends T> scalar, YamlForm<? extends T> other)
    implements YamlForm<T> {

  @Override
  public String inWords() {
    return scalar.inWords() + ", or " + other.inWords();
  }

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    YamlForm<? extends T> form = node instanceof Node.Scalar ? scalar : other;
    return form.read(node, faults).map(v -> v);
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    return Map.of("anyOf", List.of(scalar.schema(defs), other.schema(defs)));
  }
}
