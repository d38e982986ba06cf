-- Parameter sets.
local hf = require "hairfibre"
local core = require "hairfibre.core"

return function(t)
  local name = "sorption.absorption.monolayer"
  t.test("a change moves the answer of its object alone", function()
    local set = hf.parameters()
    local before, digest = set:get(name), set:digest()
    t.equal(set:set(name, before * 1.1), set)
    t.equal(set:get(name), before * 1.1)
    assert(set:digest() ~= digest)
    t.equal(hf.parameters():digest(), digest)
    t.equal(set:changed()[1], name)
    assert(hf.regain { humidity = 0.65, set = set } > hf.regain(0.65))
    t.equal(hf.regain { humidity = 0.65, set = "virgin" }, hf.regain(0.65))
    t.equal(tostring(set), "parameters virgin, 1 changed")
    local copy = set:copy()
    t.equal(copy:get(name), before * 1.1)
    copy:set(name, before)
    t.equal(copy:digest(), digest)
    t.equal(set:row(name).changed, true)
    t.equal(set:row(name).known, "assumed")
  end)
  t.test("texts carry units", function()
    local set = hf.parameters("virgin", { [name] = "9.5 %" })
    t.close(set:get(name), 0.095, 1e-15)
    t.close(set:set(name, "0.1 kg/kg"):get(name), 0.1, 0)
    t.raises({ name, "something else" }, set.set, set, name, "0.1 m")
    for _, row in ipairs(set:rows()) do
      if row.unit ~= "1" and row.unit ~= "K" then
        t.raises({ "has no unit" }, set.set, set, row.name, "1")
      end
    end
  end)
  t.test("mistakes and refusals", function()
    local set = hf.parameters()
    t.raises({ "did you mean \"bleached\"" }, hf.parameters, "bleach")
    t.raises({ "did you mean \"" .. name .. "\"" }, set.set, set, "sorption.absorption.monolayr", 1)
    t.raises({ "no parameter is called" }, set.get, set, "zzz")
    t.raises({ "must be a number" }, set.set, set, name, true)
    local none, message, code = set:set(name, 1e9)
    t.equal(none, nil)
    t.equal(code, "range")
    t.says(message, { name, "allowed range" })
    t.equal(select(3, set:set(name, 0 / 0)), "invalid")
    t.equal(#set:changed(), 0)
    t.equal(select(3, hf.parameters("virgin", { [name] = 1e9 })), "range")
    t.raises({ "(range)" }, hf.strict.parameters, "virgin", { [name] = 1e9 })
    t.raises({}, set.get, io.stdout, name)
    t.raises({}, set.get, {}, name)
  end)
  t.test("closing", function()
    local kept
    do
      local set <close> = hf.parameters()
      kept = set
    end
    t.raises({ "closed" }, kept.digest, kept)
    t.raises({ "set must be" }, hf.regain, { humidity = 0.5, set = kept })
    t.equal(tostring(kept), "parameters (closed)")
    kept:close()
    t.equal(core.is_parameters(kept), false)
    t.equal(core.is_parameters(io.stdout), false)
  end)
  t.test("rows are complete", function()
    for _, row in ipairs(hf.parameters "bleached":rows()) do
      for _, key in ipairs { "name", "unit", "source", "place", "conditions", "known", "text", "distribution" } do
        assert(row[key] ~= "" or key == "source", row.name .. " " .. key)
      end
      assert(row.low <= row.value and row.value <= row.high, row.name)
    end
  end)
end
