-- Exit codes by class, and the one way a subcommand ends early: exit.fail(class, sentence).

local exit = {}

exit.codes = {
  ok = 0,
  failed = 1, -- a check failed, or a script stopped with an error
  usage = 2, -- unknown name, missing unit, wrong option
  data = 3, -- a file cannot be read or holds a bad row
  range = 4, -- outside the range where an answer exists, or is supported (--strict)
  ["no-model"] = 5, -- no validated model answers this
  limit = 6, -- a script reached its memory or time limit
  output = 7, -- a result cannot be written
  internal = 9, -- a fault of this program
  interrupted = 130,
}

-- What each class means, in the order of the codes; the man page and --help show it.
exit.meanings = {
  { 0, "done" },
  { 1, "a check failed, or a script stopped with an error" },
  { 2, "the command line is wrong: an unknown name, a missing unit, a wrong option" },
  { 3, "the data are bad: a file that cannot be read, a row that makes no sense" },
  { 4, "out of range: no answer exists there, or (--strict) no evidence supports it" },
  { 5, "no validated model answers this" },
  { 6, "a script reached its memory or time limit" },
  { 7, "a result could not be written" },
  { 9, "a fault of this program: please report it" },
  { 130, "interrupted" },
}

-- Class of a library status code ("range", "no-model", ...).
local class_of_status = {
  ok = "ok",
  extrapolated = "ok",
  invalid = "usage",
  name = "usage",
  range = "range",
  ["no-model"] = "no-model",
  data = "data",
  memory = "limit",
  convergence = "range",
  stopped = "interrupted",
}

local Failure = { __name = "failure" }
Failure.__index = Failure
Failure.__tostring = function(failure)
  return failure.message
end

--- Ends the subcommand: main.lua prints the sentence and returns the code of the class.
function exit.fail(class, message, ...)
  if select("#", ...) > 0 then
    message = string.format(message, ...)
  end
  assert(exit.codes[class], class)
  error(setmetatable({ class = class, message = message }, Failure), 0)
end

--- The same with text that follows the sentence (the calls that led to a fault).
function exit.fail_with_trace(class, message, trace)
  error(setmetatable({ class = class, message = message, trace = trace }, Failure), 0)
end

--- The same for a failure that the library reported with its short code.
function exit.fail_with_status(code, message)
  exit.fail(class_of_status[code] or "internal", "%s", message)
end

--- True for an error value made by exit.fail.
function exit.is_failure(value)
  return getmetatable(value) == Failure
end

return exit
