// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;

/** One form for nodes of some shapes, another for the others. */
record YamlByShapeForm<T>(
    Predicate<Node> isFirst, YamlForm<? extends T> first, YamlForm<? extends T> second)
    implements YamlForm<T> {

  @Override
  public String inWords() {
    return first.inWords() + ", or " + second.inWords();
  }

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    YamlForm<? extends T> form = isFirst.test(node) ? first : second;
    return form.read(node, faults).map(v -> v);
  }

  @Override
  public T sample() {
    return first.sample();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    return Map.of("anyOf", List.of(first.schema(defs), second.schema(defs)));
  }
}
