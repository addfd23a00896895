// SPDX-License-Identifier: Apache-2.0
package millrace.document.yaml;

import java.util.List;
import java.util.Optional;
import millrace.document.FileMessageText;
import millrace.fault.FilePlace;

/** A part of a YAML document with its place. Immutable. */
public sealed interface Node permits Node.Scalar, Node.Items, Node.Entries {

  /**
   * Where it begins.
   *
   * @return the place of its first character
   */
  FilePlace place();

  /**
   * What it is, for messages.
   *
   * @return for example {@code a list of 3}
   */
  String inWords();

  /**
   * One word, number or text.
   *
   * @param place where it begins
   * @param text as written, quotes taken off
   * @param quoted true if it stood in quotes
   */
  record Scalar(FilePlace place, String text, boolean quoted) implements Node {
    /**
     * Tells whether nothing is written.
     *
     * @return true for an empty value, {@code ~} or {@code null} without quotes
     */
    public boolean isEmpty() {
      return !quoted && (text.isEmpty() || text.equals("~") || text.equals("null"));
    }

    @Override
    public String inWords() {
      return isEmpty() ? "nothing" : FileMessageText.quoted(text);
    }
  }

  /**
   * A list.
   *
   * @param place where it begins
   * @param items what it holds, in order
   */
  record Items(FilePlace place, List<Node> items) implements Node {
    /** Copies the list. */
    public Items {
      items = List.copyOf(items);
    }

    @Override
    public String inWords() {
      return "a list of " + items.size();
    }
  }

  /**
   * Keys with values.
   *
   * @param place where it begins
   * @param entries in the order of the file; keys are unique
   */
  record Entries(FilePlace place, List<Entry> entries) implements Node {
    /** Copies the list. */
    public Entries {
      entries = List.copyOf(entries);
    }

    /**
     * The entry with a key.
     *
     * @param key the key
     * @return the entry; empty if the key is not there
     */
    public Optional<Entry> find(String key) {
      return entries.stream().filter(e -> e.key().equals(key)).findFirst();
    }

    @Override
    public String inWords() {
      return entries.isEmpty() ? "an empty map" : "a map with '" + entries.get(0).key() + ":'";
    }
  }

  /**
   * One key with its value.
   *
   * @param place where the key begins
   * @param key the key
   * @param value its value
   */
  record Entry(FilePlace place, String key, Node value) {}
}
