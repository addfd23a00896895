// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.FileMessageText;
import millrace.document.yaml.Node;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import org.jspecify.annotations.Nullable;

/**
 * A map with named keys. A key is written once, where its value is needed:
 *
 * <pre>
 * YamlForm&lt;Load&gt; form =
 *     YamlMapForm.of(
 *         "a load",
 *         map -&gt; new Load(map.required("from", Dimension.RESISTANCE, "the first value")));
 * </pre>
 *
 * <p>The form determines the keys, their order and their forms by making one value from samples
 * ({@link YamlForm#sample}), with every required key present and no other. It then reads a file key
 * by key, so that every fault is found, and makes a value only from a map without a fault. So
 * neither the set of keys nor their forms may depend on the values of other keys: a key that counts
 * in one case only is asked for before the case is decided. A key not asked for with samples causes
 * an {@link IllegalStateException} at the first map read.
 *
 * @param <T> what is read
 */
public final class YamlMapForm<T> implements YamlForm<T> {
  private final String inWords;
  private final Function<YamlKeys, T> make;

  /** Determined on first use; two threads may both do it, which is harmless. */
  private volatile @Nullable Map<String, Key> learnt;

  private YamlMapForm(String inWords, Function<YamlKeys, T> make) {
    this.inWords = inWords;
    this.make = make;
  }

  /**
   * Makes a form.
   *
   * @param inWords what the map is, for messages, with its article
   * @param make makes the value from what stands under its keys; what it refuses by {@link
   *     IllegalArgumentException} becomes a fault at the map
   * @param <T> what is made
   * @return the form
   */
  public static <T> YamlForm<T> of(String inWords, Function<YamlKeys, T> make) {
    return new YamlMapForm<>(inWords, make);
  }

  private record Key(String name, YamlForm<?> form, String doc, boolean required) {}

  /** Notes which keys are asked for. */
  private static final class KeysAskedFor extends YamlKeys {
    private final Map<String, Key> keys = new LinkedHashMap<>();

    @Override
    <V> Optional<V> find(String name, YamlForm<V> form, String doc, boolean required) {
      if (keys.put(name, new Key(name, form, doc, required)) != null) {
        throw new IllegalStateException("key '" + name + "' is asked for twice");
      }
      return required ? Optional.of(sample(name, form)) : Optional.empty();
    }

    private static <V> V sample(String name, YamlForm<V> form) {
      try {
        return form.sample();
      } catch (IllegalArgumentException e) {
        throw new IllegalStateException("the form under the key '" + name + "' has no sample", e);
      }
    }

    @Override
    public FilePlace place() {
      return YamlForms.SAMPLES;
    }
  }

  /** What was read under the keys of one map. */
  private static final class KeysRead extends YamlKeys {
    private final FilePlace place;
    private final Map<String, Optional<?>> found = new HashMap<>();

    KeysRead(FilePlace place) {
      this.place = place;
    }

    @Override
    @SuppressWarnings("unchecked")
    <V> Optional<V> find(String name, YamlForm<V> form, String doc, boolean required) {
      Optional<?> value = found.get(name);
      if (value == null) {
        throw new IllegalStateException("key '" + name + "' is asked for in some cases only");
      }
      return (Optional<V>) value;
    }

    @Override
    public FilePlace place() {
      return place;
    }
  }

  private Map<String, Key> keys() {
    Map<String, Key> keys = learnt;
    if (keys == null) {
      KeysAskedFor asked = new KeysAskedFor();
      try {
        T unused = make.apply(asked);
      } catch (IllegalArgumentException e) {
        // samples may be refused: each is valid alone, but not all of them together
      }
      keys = asked.keys;
      learnt = keys;
    }
    return keys;
  }

  @Override
  public T sample() {
    return make.apply(new KeysAskedFor());
  }

  @Override
  public String inWords() {
    return inWords;
  }

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    if (!(node instanceof Node.Entries entries)) {
      YamlNodeShapes.wrong(
          node, inWords + " with " + FileMessageText.oneOf(keys().keySet()), faults);
      return Optional.empty();
    }
    int before = faults.count();
    refuseUnknown(entries, faults);
    KeysRead values = new KeysRead(node.place());
    keys().values().forEach(key -> values.found.put(key.name, read(key, entries, faults)));
    return faults.count() == before ? made(values, faults) : Optional.empty();
  }

  private void refuseUnknown(Node.Entries entries, InputFaultList faults) {
    for (Node.Entry entry : entries.entries()) {
      if (!keys().containsKey(entry.key())) {
        faults.add(
            new InputFault(
                entry.place(),
                "unknown key " + FileMessageText.quoted(entry.key()) + " in " + inWords,
                FileMessageText.oneOf(keys().keySet()),
                decimalComma(entry)
                    ? "A comma ends a value here: write decimals with a point, as in 4.7."
                    : FileMessageText.didYouMean(entry.key(), keys().keySet())));
      }
    }
  }

  /** In {@code {load: 4,7 kohm}} the 7 kohm is a key without a value. */
  private static boolean decimalComma(Node.Entry entry) {
    boolean bare = entry.value() instanceof Node.Scalar s && s.isEmpty();
    return bare && !entry.key().isEmpty() && Character.isDigit(entry.key().charAt(0));
  }

  private static Optional<?> read(Key key, Node.Entries entries, InputFaultList faults) {
    Optional<Node.Entry> entry = entries.find(key.name);
    if (entry.isPresent()) {
      return key.form.read(entry.get().value(), faults);
    }
    if (key.required) {
      faults.add(
          new InputFault(
              entries.place(),
              "the key '" + key.name + "' is missing",
              key.form.inWords(),
              "Add '" + key.name + ": ...' (" + key.doc + ")."));
    }
    return Optional.empty();
  }

  private Optional<T> made(KeysRead values, InputFaultList faults) {
    try {
      return Optional.of(make.apply(values));
    } catch (IllegalArgumentException e) {
      faults.add(FormRefusalException.of(e, values.place()));
      return Optional.empty();
    }
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    Map<String, Object> properties = new LinkedHashMap<>();
    List<String> required = new ArrayList<>();
    for (Key key : keys().values()) {
      Map<String, Object> rule = new LinkedHashMap<>(key.form.schema(defs));
      rule.put("description", key.doc);
      properties.put(key.name, rule);
      if (key.required) {
        required.add(key.name);
      }
    }
    Map<String, Object> schema = new LinkedHashMap<>();
    schema.put("type", "object");
    schema.put("description", inWords);
    schema.put("properties", properties);
    if (!required.isEmpty()) {
      schema.put("required", required);
    }
    schema.put("additionalProperties", false);
    return schema;
  }
}
