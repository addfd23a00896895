// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.Words;
import millrace.document.yaml.Node;
import millrace.fault.Fault;
import millrace.fault.Faults;

/** A map whose kind is told by which of some keys it has. */
record VariantForm<T>(String inWords, Map<String, Form<? extends T>> variants) implements Form<T> {

  VariantForm {
    variants = new LinkedHashMap<>(variants);
  }

  @Override
  public Optional<T> read(Node node, Faults faults) {
    if (!(node instanceof Node.Entries entries)) {
      Shapes.wrong(node, expected(), faults);
      return Optional.empty();
    }
    List<String> telling = Shapes.keys(entries).stream().filter(variants::containsKey).toList();
    if (telling.isEmpty()) {
      faults.add(none(entries));
      return Optional.empty();
    }
    Form<? extends T> form = variants.get(telling.get(0));
    return form == null ? Optional.empty() : form.read(node, faults).map(v -> v);
  }

  private Fault none(Node.Entries entries) {
    List<String> keys = Shapes.keys(entries);
    String hint =
        keys.stream()
            .map(k -> Words.didYouMean(k, variants.keySet()))
            .filter(h -> !h.isEmpty())
            .findFirst()
            .orElse("");
    return new Fault(
        entries.place(), entries.inWords() + " says nothing of what it is", expected(), hint);
  }

  private String expected() {
    return inWords + ": one with the key " + Words.oneOf(variants.keySet());
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    List<Map<String, Object>> all = variants.values().stream().map(f -> f.schema(defs)).toList();
    return Map.of("anyOf", all);
  }
}
