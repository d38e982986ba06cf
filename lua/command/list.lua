-- The commands: word, what it does. Each is a module command.WORD with run(arguments).

return {
  { "value", "one quantity at stated conditions, with range, sources and limits" },
  { "curve", "a quantity over a range of one condition: picture, table, CSV file" },
  { "sensitivity", "which inputs decide an answer, ranked" },
  { "claim", "what somebody says, against the model and the published numbers" },
  { "ensemble", "many strands of a population through one treatment" },
  { "merge", "joins the parts of an ensemble that ran apart" },
  { "fit", "a model fitted to your own data, with intervals that say what is not known" },
  { "run", "a Lua script that uses the library, inside a sandbox" },
  { "report", "one page for a browser from a script or a saved table" },
  { "count", "strand experiments: plan them, print a bench card, read the counts" },
  { "parameters", "the numbers behind the models, with spread and source" },
  { "sources", "where the numbers come from; --bibtex for a reference list" },
  { "models", "every quantity: what it needs, where it holds, what it leaves out" },
  { "selftest", "recomputes published values and says which are met" },
}
