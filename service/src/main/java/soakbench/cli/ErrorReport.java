package soakbench.cli;

import java.io.FileNotFoundException;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.NoSuchFileException;
import org.slf4j.LoggerFactory;
import picocli.CommandLine;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;
import soakbench.api.ApiStartException;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.LimitsFileException;
import soakbench.cli.options.OptionProblem;
import soakbench.ingest.rackfile.RackFileException;
import soakbench.ingest.spool.SpoolException;
import soakbench.live.StoreException;

/** Turns an exception into one clear sentence and an exit code; stack traces are for bugs only. */
final class ErrorReport {
  private ErrorReport() {}

  static int badOption(ParameterException e, String[] args) {
    CommandLine command = e.getCommandLine();
    command.getErr().println("soakbench: " + OptionProblem.sentence(e));
    command.getErr().println("Try \"" + command.getCommandSpec().qualifiedName() + " --help\".");
    return command.getCommandSpec().exitCodeOnInvalidInput();
  }

  static int failed(Exception e, CommandLine command, ParseResult parsed) {
    String said = sentence(e);
    if (said == null) {
      LoggerFactory.getLogger(ErrorReport.class).error("this is a mistake of the program", e);
      said = "stopped by a mistake of its own: " + e + "; please report the lines above";
    }
    command.getErr().println("soakbench: " + said);
    return command.getCommandSpec().exitCodeOnExecutionException();
  }

  private static String sentence(Throwable e) {
    if (e instanceof CommandException
        || e instanceof StoreException
        || e instanceof RackFileException
        || e instanceof SpoolException
        || e instanceof LimitsFileException) {
      return e.getMessage();
    }
    if (e instanceof ApiStartException) {
      return e.getMessage();
    }
    if (e instanceof NoSuchFileException file) {
      return file.getFile() + " does not exist";
    }
    if (e instanceof AccessDeniedException file) {
      return file.getFile() + " may not be read or written by this user";
    }
    if (e instanceof FileNotFoundException) {
      return e.getMessage().replaceFirst(" \\((.*)\\)$", " can't be opened: $1");
    }
    if (e instanceof IOException) {
      return e.getMessage();
    }
    return e instanceof UncheckedIOException ? sentence(e.getCause()) : null;
  }
}
