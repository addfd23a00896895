package millrace.document;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.Faults;
import millrace.fault.Place;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.api.lowlevel.Compose;
import org.snakeyaml.engine.v2.common.ScalarStyle;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;
import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.NodeTuple;
import org.snakeyaml.engine.v2.nodes.ScalarNode;
import org.snakeyaml.engine.v2.nodes.SequenceNode;
import org.snakeyaml.engine.v2.nodes.Tag;

/**
 * Reads YAML files into nodes with places. What could hurt is refused: tags, aliases, several
 * documents, deep nesting, huge files, bytes that are no UTF-8.
 */
public final class YamlFile {
  /** The largest file that is read, bytes. */
  public static final int MOST_BYTES = 1_000_000;

  /** The deepest nesting that is read. */
  public static final int MOST_DEPTH = 30;

  /** The most values in one file. */
  public static final int MOST_NODES = 100_000;

  private static final Set<Tag> PLAIN_TAGS =
      Set.of(Tag.STR, Tag.INT, Tag.FLOAT, Tag.BOOL, Tag.NULL, Tag.SEQ, Tag.MAP);

  private final String file;
  private final Faults faults;
  private int nodes;

  private YamlFile(String file, Faults faults) {
    this.file = file;
    this.faults = faults;
  }

  /**
   * Reads a file from disk, whole.
   *
   * @param path the file
   * @return its bytes
   * @throws BadInputException if it is missing, a directory, not readable or too large
   */
  public static byte[] bytes(Path path) {
    Place place = Place.of(path.toString());
    try {
      if (Files.isDirectory(path)) {
        throw refusal(place, "this is a directory", "a file", "");
      }
      if (Files.exists(path) && !Files.isRegularFile(path)) {
        throw refusal(place, "this is a device or pipe", "a file", "");
      }
      if (Files.size(path) > MOST_BYTES) {
        throw refusal(
            place, "the file has " + Files.size(path) + " bytes", "at most " + MOST_BYTES, "");
      }
      return Files.readAllBytes(path);
    } catch (NoSuchFileException e) {
      throw refusal(place, "there is no such file", "a file", "Check the path.");
    } catch (AccessDeniedException e) {
      throw refusal(place, "the file may not be read", "a readable file", "Check its permissions.");
    } catch (IOException e) {
      throw refusal(place, "the file cannot be read: " + e.getMessage(), "a readable file", "");
    }
  }

  /**
   * Reads YAML from bytes.
   *
   * @param file the name for messages
   * @param bytes what the file holds
   * @return the root node
   * @throws BadInputException if it is no YAML that Millrace reads, with every fault found
   */
  public static Node read(String file, byte[] bytes) {
    Faults faults = new Faults();
    Optional<Node> root = new YamlFile(file, faults).compose(decoded(file, bytes));
    faults.throwIfAny();
    return root.orElseThrow(
        () -> refusal(Place.of(file), "the file is empty", "keys with values", ""));
  }

  private static String decoded(String file, byte[] bytes) {
    if (bytes.length > MOST_BYTES) {
      throw refusal(
          Place.of(file), "the file has " + bytes.length + " bytes", "at most " + MOST_BYTES, "");
    }
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
      return text.startsWith("\ufeff") ? text.substring(1) : text;
    } catch (CharacterCodingException e) {
      throw refusal(
          Place.of(file),
          "the file is not UTF-8 text",
          "a YAML file in UTF-8",
          "Save it as UTF-8 text, or check that this is the file you meant.");
    }
  }

  private Optional<Node> compose(String text) {
    LoadSettings settings =
        LoadSettings.builder()
            .setLabel(file)
            .setAllowDuplicateKeys(true)
            .setAllowRecursiveKeys(false)
            .setMaxAliasesForCollections(0)
            .setCodePointLimit(MOST_BYTES)
            .setUseMarks(true)
            .build();
    if (tooDeep(text)) {
      return Optional.empty();
    }
    try {
      List<Node> documents = new ArrayList<>();
      for (var node : new Compose(settings).composeAllFromString(text)) {
        documents.add(convert(node, 0));
        if (documents.size() > 1) {
          faults.add(documents.get(1).place(), "a second document begins", "one document a file");
          break;
        }
      }
      return documents.stream().findFirst().filter(n -> !isNothing(n));
    } catch (MarkedYamlEngineException e) {
      Place place = e.getProblemMark().map(this::place).orElse(Place.of(file));
      faults.add(Fault.of(place, "this is not YAML: " + e.getProblem(), "well-formed YAML"));
      return Optional.empty();
    } catch (YamlEngineException e) {
      faults.add(Place.of(file), "this is not YAML: " + firstLine(e), "well-formed YAML");
      return Optional.empty();
    }
  }

  private static boolean isNothing(Node node) {
    return node instanceof Node.Scalar scalar && scalar.isEmpty();
  }

  /** Depth is bounded before parsing, since the parser itself would recurse. */
  private boolean tooDeep(String text) {
    int line = 0;
    int open = 0;
    for (String each : text.split("\n", -1)) {
      line++;
      open += count(each, "[{") - count(each, "]}");
      if (open > 10 * MOST_DEPTH || indentation(each) > 20 * MOST_DEPTH) {
        faults.add(
            new Place(file, line, 1),
            "values nest too deeply",
            "at most " + MOST_DEPTH + " levels");
        return true;
      }
    }
    return false;
  }

  private static int count(String line, String characters) {
    return (int) line.chars().filter(c -> characters.indexOf(c) >= 0).count();
  }

  private static int indentation(String line) {
    int i = 0;
    while (i < line.length() && " -?".indexOf(line.charAt(i)) >= 0) {
      i++;
    }
    return i;
  }

  private Node convert(org.snakeyaml.engine.v2.nodes.Node node, int depth) {
    Place place = node.getStartMark().map(this::place).orElse(Place.of(file));
    nodes++;
    if (depth > MOST_DEPTH || nodes > MOST_NODES) {
      throw refusal(
          place,
          depth > MOST_DEPTH ? "values nest too deeply" : "the file holds too many values",
          depth > MOST_DEPTH ? "at most " + MOST_DEPTH + " levels" : "at most " + MOST_NODES,
          "");
    }
    refuseTag(node, place);
    if (node.getAnchor().isPresent()) {
      faults.add(place, "anchors and aliases are not taken", "the value itself");
    }
    if (node instanceof ScalarNode scalar) {
      boolean quoted = scalar.getScalarStyle() != ScalarStyle.PLAIN;
      return new Node.Scalar(place, scalar.getValue(), quoted);
    }
    if (node instanceof SequenceNode sequence) {
      return new Node.Items(
          place, sequence.getValue().stream().map(n -> convert(n, depth + 1)).toList());
    }
    return entries((MappingNode) node, place, depth);
  }

  private Node entries(MappingNode mapping, Place place, int depth) {
    List<Node.Entry> entries = new ArrayList<>();
    Map<String, Place> seen = new HashMap<>();
    for (NodeTuple tuple : mapping.getValue()) {
      Node key = convert(tuple.getKeyNode(), depth + 1);
      if (!(key instanceof Node.Scalar scalar)) {
        faults.add(key.place(), "a key is " + key.inWords(), "a word as key");
        continue;
      }
      Place first = seen.putIfAbsent(scalar.text(), key.place());
      if (first != null) {
        faults.add(
            new Fault(
                key.place(),
                Words.quoted(scalar.text()) + " is given twice, first at line " + first.line(),
                "once",
                "Delete one."));
        continue;
      }
      entries.add(
          new Node.Entry(key.place(), scalar.text(), convert(tuple.getValueNode(), depth + 1)));
    }
    return new Node.Entries(place, entries);
  }

  private void refuseTag(org.snakeyaml.engine.v2.nodes.Node node, Place place) {
    Tag tag = node.getTag();
    if (!PLAIN_TAGS.contains(tag)) {
      faults.add(place, "the tag " + Words.quoted(tag.getValue()), "no tags");
    }
  }

  private Place place(org.snakeyaml.engine.v2.exceptions.Mark mark) {
    return new Place(file, mark.getLine() + 1, mark.getColumn() + 1);
  }

  private static String firstLine(YamlEngineException e) {
    return String.valueOf(e.getMessage()).lines().findFirst().orElse("unreadable");
  }

  private static BadInputException refusal(
      Place place, String found, String expected, String remedy) {
    return new BadInputException(new Fault(place, found, expected, remedy));
  }
}
