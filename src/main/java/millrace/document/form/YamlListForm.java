// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;

/** A list; a single value counts as a list of one. */
record YamlListForm<T>(YamlForm<T> item, int least) implements YamlForm<List<T>> {

  @Override
  public String inWords() {
    return "a list, each " + item.inWords();
  }

  @Override
  public Optional<List<T>> read(Node node, InputFaultList faults) {
    if (!(node instanceof Node.Items items)) {
      return item.read(node, faults).map(List::of);
    }
    if (items.items().size() < least) {
      faults.add(node.place(), node.inWords(), "a list of at least " + least);
      return Optional.empty();
    }
    int before = faults.count();
    List<T> list = new ArrayList<>();
    items.items().forEach(n -> item.read(n, faults).ifPresent(list::add));
    return faults.count() == before ? Optional.of(List.copyOf(list)) : Optional.empty();
  }

  @Override
  public List<T> sample() {
    return least == 0 ? List.of() : Collections.nCopies(least, item.sample());
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    Map<String, Object> one = item.schema(defs);
    Map<String, Object> many = new LinkedHashMap<>();
    many.put("type", "array");
    many.put("items", one);
    many.put("minItems", least);
    return Map.of("anyOf", List.of(many, one));
  }
}
