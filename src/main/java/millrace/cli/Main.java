package millrace.cli;

/** Where the process starts. */
public final class Main {
  private Main() {}

  /**
   * Starts the command line.
   *
   * @param args the words after the program's name
   */
  public static void main(String[] args) {
    System.err.println("millrace: no command yet, " + args.length + " words given");
  }
}
