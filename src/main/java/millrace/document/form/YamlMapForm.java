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

/**
 * A map with named keys. Made by a builder whose typed {@link Key}s are then used to fetch what was
 * read:
 *
 * <pre>
 * MapForm.Builder map = MapForm.of("a load");
 * Key&lt;Double&gt; from = map.required("from", Forms.quantity(RESISTANCE), "the first value");
 * Form&lt;Load&gt; form = map.reads(values -&gt; new Load(values.get(from)));
 * </pre>
 *
 * @param <T> what is read
 */
public final class YamlMapForm<T> implements YamlForm<T> {
  private final String inWords;
  private final List<Key<?>> keys;
  private final Function<Values, T> make;

  private YamlMapForm(String inWords, List<Key<?>> keys, Function<Values, T> make) {
    this.inWords = inWords;
    this.keys = List.copyOf(keys);
    this.make = make;
  }

  /**
   * Begins a form.
   *
   * @param inWords what the map is, for messages, with its article
   * @return the builder
   */
  public static Builder of(String inWords) {
    return new Builder(inWords);
  }

  /**
   * One key of a map.
   *
   * @param <V> what is read under it
   */
  public static final class Key<V> {
    private final String name;
    private final YamlForm<?> form;
    private final boolean required;
    private final Function<Optional<?>, V> fetch;
    private final String doc;

    private Key(
        String name,
        YamlForm<?> form,
        String doc,
        boolean required,
        Function<Optional<?>, V> fetch) {
      this.name = name;
      this.form = form;
      this.doc = doc;
      this.required = required;
      this.fetch = fetch;
    }
  }

  /** Collects the keys. Single-threaded. */
  public static final class Builder {
    private final String inWords;
    private final List<Key<?>> keys = new ArrayList<>();

    private Builder(String inWords) {
      this.inWords = inWords;
    }

    private <V> Key<V> add(Key<V> key) {
      if (keys.stream().anyMatch(k -> k.name.equals(key.name))) {
        throw new IllegalArgumentException("key '" + key.name + "' is defined twice");
      }
      keys.add(key);
      return key;
    }

    /**
     * A key that must be there.
     *
     * @param name the key
     * @param form what stands under it
     * @param doc what it means, for the schema
     * @param <V> what is read
     * @return the key
     */
    @SuppressWarnings("unchecked")
    public <V> Key<V> required(String name, YamlForm<V> form, String doc) {
      return add(new Key<>(name, form, doc, true, found -> (V) found.orElseThrow()));
    }

    /**
     * A key that may be left out.
     *
     * @param name the key
     * @param form what stands under it
     * @param doc what it means, for the schema
     * @param <V> what is read
     * @return the key
     */
    @SuppressWarnings("unchecked")
    public <V> Key<Optional<V>> optional(String name, YamlForm<V> form, String doc) {
      return add(new Key<>(name, form, doc, false, found -> (Optional<V>) found));
    }

    /**
     * A key that may be left out, with what then counts.
     *
     * @param name the key
     * @param form what stands under it
     * @param otherwise what counts if it is left out
     * @param doc what it means, for the schema; should name the default
     * @param <V> what is read
     * @return the key
     */
    @SuppressWarnings("unchecked")
    public <V> Key<V> optional(String name, YamlForm<V> form, V otherwise, String doc) {
      return add(
          new Key<>(name, form, doc, false, found -> ((Optional<V>) found).orElse(otherwise)));
    }

    /**
     * Ends the form.
     *
     * @param make makes the value from what was read; what it refuses by {@link
     *     IllegalArgumentException} becomes a fault at the map
     * @param <T> what is made
     * @return the form
     */
    public <T> YamlMapForm<T> reads(Function<Values, T> make) {
      return new YamlMapForm<>(inWords, keys, make);
    }
  }

  /** What was read under the keys of one map. */
  public static final class Values {
    private final FilePlace place;
    private final Map<String, Object> found = new HashMap<>();
    private final Map<String, FilePlace> places = new HashMap<>();

    private Values(FilePlace place) {
      this.place = place;
    }

    /**
     * What stood under a key.
     *
     * @param key the key
     * @param <V> what is read
     * @return the value, or its default
     */
    public <V> V get(Key<V> key) {
      return key.fetch.apply(Optional.ofNullable(found.get(key.name)));
    }

    /**
     * Where the map stands.
     *
     * @return the place of its first character
     */
    public FilePlace place() {
      return place;
    }
  }

  @Override
  public String inWords() {
    return inWords;
  }

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    if (!(node instanceof Node.Entries entries)) {
      YamlNodeShapes.wrong(node, inWords + " with " + FileMessageText.oneOf(names()), faults);
      return Optional.empty();
    }
    int before = faults.count();
    refuseUnknown(entries, faults);
    Values values = new Values(node.place());
    keys.forEach(key -> readKey(key, entries, values, faults));
    return faults.count() == before ? made(values, faults) : Optional.empty();
  }

  private void refuseUnknown(Node.Entries entries, InputFaultList faults) {
    List<String> names = names();
    for (Node.Entry entry : entries.entries()) {
      if (!names.contains(entry.key())) {
        faults.add(
            new InputFault(
                entry.place(),
                "unknown key " + FileMessageText.quoted(entry.key()) + " in " + inWords,
                FileMessageText.oneOf(names),
                decimalComma(entry)
                    ? "A comma ends a value here: write decimals with a point, as in 4.7."
                    : FileMessageText.didYouMean(entry.key(), names)));
      }
    }
  }

  /** In {@code {load: 4,7 kohm}} the 7 kohm is a key without a value. */
  private static boolean decimalComma(Node.Entry entry) {
    boolean bare = entry.value() instanceof Node.Scalar s && s.isEmpty();
    return bare && !entry.key().isEmpty() && Character.isDigit(entry.key().charAt(0));
  }

  private static void readKey(
      Key<?> key, Node.Entries entries, Values values, InputFaultList faults) {
    Optional<Node.Entry> entry = entries.find(key.name);
    if (entry.isPresent()) {
      Node value = entry.get().value();
      FilePlace place =
          value instanceof Node.Scalar s && s.isEmpty() ? entry.get().place() : value.place();
      values.places.put(key.name, place);
      key.form.read(value, faults).ifPresent(v -> values.found.put(key.name, v));
    } else if (key.required) {
      faults.add(
          new InputFault(
              entries.place(),
              "the key '" + key.name + "' is missing",
              key.form.inWords(),
              "Add '" + key.name + ": ...' (" + key.doc + ")."));
    }
  }

  private Optional<T> made(Values values, InputFaultList faults) {
    try {
      return Optional.of(make.apply(values));
    } catch (IllegalArgumentException e) {
      faults.add(FormRefusalException.of(e, values.place()));
      return Optional.empty();
    }
  }

  private List<String> names() {
    return keys.stream().map(k -> k.name).toList();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    Map<String, Object> properties = new LinkedHashMap<>();
    for (Key<?> key : keys) {
      Map<String, Object> rule = new LinkedHashMap<>(key.form.schema(defs));
      rule.put("description", key.doc);
      properties.put(key.name, rule);
    }
    Map<String, Object> schema = new LinkedHashMap<>();
    schema.put("type", "object");
    schema.put("description", inWords);
    schema.put("properties", properties);
    List<String> required = keys.stream().filter(k -> k.required).map(k -> k.name).toList();
    if (!required.isEmpty()) {
      schema.put("required", required);
    }
    schema.put("additionalProperties", false);
    return schema;
  }
}
