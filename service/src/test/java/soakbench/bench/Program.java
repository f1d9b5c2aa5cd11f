package soakbench.bench;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import soakbench.cli.Main;
import soakbench.cli.options.CommandException;
import soakbench.store.server.ServerBinaries;

/** A command of the program in a process of its own, so that it can be measured or killed. */
public final class Program implements AutoCloseable {
  /** Options of the launcher: what is measured is measured as users run it. */
  static final List<String> LAUNCHED = List.of("-Xmx512m", "-XX:TieredStopAtLevel=1");

  /** What is compiled and collected the simplest way is at work soon. */
  static final List<String> SOON = List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC");

  private final Process process;
  private final String said;

  private Program(Process process, String said) {
    this.process = process;
    this.said = said;
  }

  /** Options of a virtual machine that shall be at work soon, and whose cost nobody measures. */
  public static List<String> soon() {
    return Stream.concat(SOON.stream(), ClassArchive.options().stream()).toList();
  }

  /**
   * How a class of ours is started in a virtual machine of its own.
   *
   * @param virtualMachine options of the virtual machine; may name another class path
   */
  public static List<String> command(
      List<String> virtualMachine, Class<?> main, List<String> arguments) {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(List.of("-cp", System.getProperty("java.class.path")));
    String programs = System.getProperty(ServerBinaries.PROPERTY);
    if (programs != null) {
      // Else each would unpack the database's programs into its own data folder.
      command.add("-D" + ServerBinaries.PROPERTY + "=" + programs);
    }
    command.addAll(virtualMachine);
    command.add(main.getName());
    command.addAll(arguments);
    return command;
  }

  /**
   * Starts a command and waits until it prints a line; what it says of errors goes to ours.
   *
   * @param virtualMachine options of the virtual machine
   * @param ready how a line begins that says it is at work
   * @throws CommandException if it ended before it said so
   */
  public static Program start(List<String> virtualMachine, String ready, List<String> arguments)
      throws IOException {
    Process process =
        new ProcessBuilder(command(virtualMachine, Main.class, arguments))
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    BufferedReader lines =
        new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    for (String line = lines.readLine(); line != null; line = lines.readLine()) {
      if (line.startsWith(ready)) {
        return new Program(process, line.substring(ready.length()).strip());
      }
    }
    process.destroyForcibly();
    throw new CommandException(
        arguments.get(0) + " ended before it was at work; see its message above");
  }

  /** The rest of the line by which it said that it is at work. */
  public String said() {
    return said;
  }

  public long pid() {
    return process.pid();
  }

  public boolean isAlive() {
    return process.isAlive();
  }

  public double residentMib() throws IOException {
    return ProcessCost.residentMib(process.pid());
  }

  /** Signal 9: no hook runs, nothing is flushed. */
  public void kill() throws InterruptedException {
    process.destroyForcibly();
    process.waitFor();
  }

  /** Stops it and waits for half a minute; then kills it. */
  @Override
  public void close() {
    process.destroy();
    try {
      if (!process.waitFor(30, TimeUnit.SECONDS)) {
        process.destroyForcibly();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
