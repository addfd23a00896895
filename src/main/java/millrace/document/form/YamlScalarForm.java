// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.Map;
import java.util.Optional;
import java.util.function.BiFunction;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;

/** A single value. */
record YamlScalarForm<T>(
    String inWords,
    Map<String, Object> rule,
    T sample,
    BiFunction<Node.Scalar, InputFaultList, Optional<T>> reader)
    implements YamlForm<T> {

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    if (node instanceof Node.Scalar scalar && !scalar.isEmpty()) {
      return reader.apply(scalar, faults);
    }
    YamlNodeShapes.wrong(node, inWords, faults);
    return Optional.empty();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    return rule;
  }
}
