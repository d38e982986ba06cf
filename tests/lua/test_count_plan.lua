-- Plans and bench cards: how many, who gets what, what can be seen.
local hf = require "hairfibre"

return function(t)
  local function plan(options)
    local p, message = hf.count_plan(options)
    return p or error(message, 2)
  end

  t.test("how many strands", function()
    -- 0.025^(1/17) = 0.805, 0.025^(1/16) = 0.794
    t.equal(plan { purpose = "share", at_least = "80 %" }.strands, 17)
    local p = plan { purpose = "groups", expect = { "10 %", "60 %" } }
    t.equal(p.strands, hf.two_share_strands { first = 0.1, second = 0.6 }.strands)
    t.close(p.power_reached, hf.two_share_power { first = 0.1, second = 0.6, strands = p.strands }, 0, "power")
    t.equal(p.total, 2 * p.strands)
    p = plan { purpose = "pairs", expect = { 0.5, 0.05 } }
    t.equal(p.strands, hf.paired_share_strands { gained = 0.5, lost = 0.05 }.strands)
    -- R power.t.test: delta 2, sd 3, paired, power 0.8: 19.67
    t.equal(plan { purpose = "change", effect = "2 um", deviation = "3 um" }.strands, 20)
    -- R power.t.test: delta 1, sd 1, power 0.9: 22.02
    t.equal(plan { purpose = "means", effect = "1 um", deviation = "1 um", power = 0.9 }.strands, 23)
    -- three groups: two comparisons share the risk
    local three = plan { purpose = "groups", expect = { 0.1, 0.6 }, groups = { "control", "a", "b" } }
    t.equal(three.strands, hf.two_share_strands { first = 0.1, second = 0.6, alpha = 0.025 }.strands)
    t.says(three:text(), { "shared by 2 comparisons" })
  end)

  t.test("as many from each donor, or what was asked for", function()
    local p = plan { purpose = "groups", expect = { 0.1, 0.6 }, donors = 3 }
    t.equal(p.needed, 17)
    t.equal(p.strands, 18, "a multiple of the donors")
    p = plan { purpose = "groups", expect = { 0.1, 0.6 }, strands = 5 }
    t.equal(p.strands, 5)
    t.says(p:text(), { "5 were asked for; 17 would be needed" })
    t.says(plan { purpose = "change", effect = "2 um", deviation = "1 um", strands = 5 }:text(),
      { "With fewer than 6 strands" })
    t.equal(plan { purpose = "share", at_least = 0.5, donors = { "weft A", "weft B" } }.assignment[1].donor:sub(1, 4), "weft")
  end)

  t.test("assignment", function()
    local options = { purpose = "groups", expect = { 0.1, 0.6 }, donors = 3, seed = 7 }
    local p, again = plan(options), plan(options)
    t.equal(p:key():csv(), again:key():csv(), "the same seed")
    t.equal(p:id(), again:id())
    options.seed = 8
    t.equal(p:key():csv() == plan(options):key():csv(), false, "another seed")
    local each, ids = {}, {}
    for _, one in ipairs(p.assignment) do
      local place = one.donor .. " " .. one.group
      each[place], ids[one.id] = (each[place] or 0) + 1, true
    end
    for place, count in pairs(each) do
      t.equal(count, 6, place)
    end
    for i = 1, 36 do
      t.equal(ids[("S%02d"):format(i)], true, "number " .. i)
    end
    -- the sheet tells nothing of the groups
    local sheet = p:sheet():csv()
    t.equal(sheet:find("control") or sheet:find("treated") or sheet:find("group"), nil)
    -- over many seeds each strand of a donor comes into each group equally often
    local hits, seeds = 0, 400
    for seed = 1, seeds do
      local one = plan { purpose = "groups", expect = { 0.1, 0.9 }, strands = 4, seed = seed }
      for _, strand in ipairs(one.assignment) do
        hits = hits + (strand.strand == 1 and strand.group == "treated" and 1 or 0)
      end
    end
    local limits = hf.binomial_interval { events = hits, strands = seeds, level = 0.9999 }
    t.equal(limits.low < 0.5 and 0.5 < limits.high, true, hits .. " of " .. seeds)
  end)

  t.test("sheet and key go round", function()
    local stem = t.folder .. "/round"
    local p = plan { purpose = "groups", expect = { 0.1, 0.6 }, donors = 2, groups = { { "control", "soak 10 min; blot" },
      { "hot", "soak 10 min; blot; plates 200 degC 1 s" } } }
    local sheet, key = p:save(stem)
    t.equal(sheet, stem .. "_sheet.csv")
    local none, message, code = p:save(stem)
    t.equal(none, nil)
    t.equal(code, "file")
    t.says(message, { "not overwritten" })
    local file = assert(io.open(sheet))
    local text = file:read("a")
    file:close()
    t.says(text, { "# plan " .. p:id(), "hairfibre" })
    -- filled in: every treated strand shows voids, no other
    local group = {}
    for _, one in ipairs(p.assignment) do
      group[one.id] = one.group
    end
    file = assert(io.open(sheet, "w"))
    for line in text:gmatch("[^\n]+") do
      local id = line:match("^(S%d+),")
      local cells = {}
      for cell in (line .. ","):gmatch("([^,]*),") do
        cells[#cells + 1] = cell
      end
      if id then
        cells[10] = group[id] == "hot" and "3" or "no" -- voids
        cells[9] = "no" -- voids_before
      end
      file:write(id and table.concat(cells, ",") or line, "\n")
    end
    file:close()
    local a = assert(hf.count_read { sheet, key = key })
    t.equal(a.planned, true)
    t.equal(a.groups[2].name, "hot")
    t.equal(a.groups[2].shares.voids.events, p.strands)
    t.equal(a.groups[1].shares.voids.events, 0)
    t.equal(a.groups[2].treatment, "soak 10 min; blot; plates 200 degC 1 s")
    for _, s in ipairs(a:limits()) do
      t.equal(s:find("at random") or s:find("knew them"), nil, s)
    end
  end)

  t.test("can it be seen", function()
    local function word(pixel)
      local p = plan { purpose = "share", at_least = 0.5, pixel = pixel, groups = { { "wet", "soak 10 min; blot" } } }
      return p.groups[1].word, p.groups[1].prediction
    end
    local seen, p = word "0.5 um"
    t.equal(seen, "each")
    t.equal(p.low > 1.13 * 0.5e-6, true, "the smallest change of the range is above 1.13 pixels")
    t.equal(word "50 um", "none")
    t.equal(word(nil), "unknown")
    -- between the two the verdict only gets worse
    local rank, last = { each = 1, most = 2, mean = 3, doubtful = 4, none = 5 }, 0
    for _, pixel in ipairs { "0.5 um", "1 um", "2 um", "4 um", "6 um", "10 um", "50 um" } do
      local now = rank[(word(pixel))]
      t.equal(now >= last, true, pixel)
      last = now
    end
    local text = plan { purpose = "share", at_least = 0.5, pixel = "0.5 um", groups = { { "dry", "rest 1 h" } } }:text()
    t.says(text, { "no change", "0.56 um" }) -- 1.13 * 0.5
  end)

  t.test("the effect the models expect", function()
    local p = plan { purpose = "change", pixel = "0.5 um", groups = { { "wet", "soak 10 min; blot" } } }
    t.close(p.effect, p.groups[1].prediction.change, 0, "effect")
    t.says(p:text(), { "expected by the models" })
    local none, message = hf.count_plan { purpose = "change", groups = { { "dry", "rest 1 h" } } }
    t.equal(none, nil)
    t.says(message, { "expect no change" })
    -- swelling goes with the diameter
    local thick = plan { purpose = "share", at_least = 0.5, diameter = "100 um", groups = { { "wet", "soak 30 min" } } }
    local thin = plan { purpose = "share", at_least = 0.5, diameter = "50 um", groups = { { "wet", "soak 30 min" } } }
    t.close(thick.groups[1].prediction.change / thin.groups[1].prediction.change, 2, 0.02, "twice as thick")
  end)

  t.test("her own strands", function()
    local path = "examples/data/strands_wet_invented.csv"
    local p = plan { purpose = "share", at_least = 0.5, from = path, groups = { { "wet", "soak 10 min" } } }
    local a = hf.count_read { path }
    t.close(p.diameter, a.diameter.mean, 1e-18, "mean")
    t.close(p.spread, a.diameter.deviation, 1e-18, "spread")
    t.says((p:text():gsub("%s+", " ")), { path, a.inputs[1].sha256:sub(1, 16), "16 strands" })
    -- a blinded sheet holds diameters too
    t.equal(#plan { purpose = "share", at_least = 0.5, from = "examples/data/strands_blind_invented.csv" }.diameters, 12)
    t.close(plan { purpose = "share", at_least = 0.5, diameters = { "60 um", "80 um" } }.diameter, 70e-6, 1e-18, "list")
    local none, _, code = hf.count_plan { purpose = "share", at_least = 0.5, from = t.folder .. "/nowhere.csv" }
    t.equal(none, nil)
    t.equal(code, "file")
  end)

  t.test("what belongs into a plan", function()
    local text = plan { purpose = "groups", expect = { 0.1, 0.6 }, pixel = "0.5 um",
      groups = { { "control", "soak 10 min" }, { "hot", "plates 392 degF 1 s passes=3" } } }:text()
    t.says((text:gsub("%s+", " ")), { "20.0 +- 2.0 degC", "65.0 +- 4.0 %", "both axes", "dry or wet", "temperature set AND measured", "contact time",
      "passes", "size of a pixel", "treatments before", "ratio of bath to hair", "Consent", "200 degC (392 degF)", "passes 3",
      "0 no change seen", "Who grades must not see the key", "never on a head", "hairfibre", "set virgin, digest", "seed 1",
      "extrapolated" })
    for line in text:gmatch("[^\n]+") do
      t.equal(utf8.len(line) <= 80, true, line)
    end
  end)

  t.test("card", function()
    local options = { purpose = "change", pixel = "0.5 um", groups = { { "wet & <dry>", "soak 10 min; blot" } } }
    local card = hf.count_card(options)
    local svg = card:svg()
    t.says(svg, { "<svg", "wet &amp; &lt;dry&gt;", "my guess", "planned: 0.5", "digest", "plan " .. plan(options):id() })
    t.equal(svg, hf.count_card(plan(options)):svg(), "from options or from a plan")
    for line in card:text():gmatch("[^\n]+") do
      t.equal(utf8.len(line) <= 80, true, line)
    end
    for _, ending in ipairs { "svg", "txt", "png", "pdf" } do
      local one, two = t.folder .. "/card." .. ending, t.folder .. "/card2." .. ending
      t.equal(card:save(one), true, ending)
      t.equal(hf.count_card(options):save(two), true, ending)
      local a, b = assert(io.open(one, "rb")), assert(io.open(two, "rb"))
      t.equal(a:read("a"), b:read("a"), "the same bytes: " .. ending)
      a:close()
      b:close()
    end
    t.raises({ ".svg, .png, .pdf or .txt" }, card.save, card, t.folder .. "/card.doc")
    local many = {}
    for i = 1, 5 do
      many[i] = "group " .. i
    end
    t.equal(select(3, hf.count_card { purpose = "groups", expect = { 0.1, 0.9 }, groups = many }), "range")
    local long = ("soak 10 min; blot; rest 1 h; "):rep(40)
    local none, message = hf.count_card { purpose = "groups", expect = { 0.1, 0.9 }, groups = { { "a", long }, { "b", long } } }
    t.equal(none, nil)
    t.says(message, { "one page" })
  end)

  t.test("what plans refuse", function()
    t.raises({ "shares", 'did you mean "share"' }, hf.count_plan, { purpose = "shares" })
    t.raises({ "purpose" }, hf.count_plan, {})
    t.raises({ "at_least" }, hf.count_plan, { purpose = "share" })
    t.raises({ "expect" }, hf.count_plan, { purpose = "groups", expect = 0.5 })
    t.raises({ "pixl", "pixel" }, hf.count_plan, { purpose = "share", at_least = 0.5, pixl = 1 })
    t.raises({ "two or more" }, hf.count_plan, { purpose = "groups", expect = { 0.1, 0.6 }, groups = { "one" } })
    t.raises({ "plats", "plates" }, hf.count_plan, { purpose = "share", at_least = 0.5, groups = { { "a", "plats 200 degC 1 s" } } })
    t.raises({ "200" }, hf.count_plan, { purpose = "share", at_least = 0.5, groups = { { "a", "plates 200 1 s" } } })
    t.raises({ "given twice" }, hf.count_plan, { purpose = "share", at_least = 0.5, groups = { { "a", "soak 10 min 5 min" } } })
    for _, bad in ipairs { { at_least = 1.5 }, { at_least = 0.5, pixel = -1 }, { at_least = 0.5, strands = 2.5 },
      { at_least = 0.5, donors = 0 }, { at_least = 0.5, diameter = "5 um" }, { at_least = 0.5, alpha = 0 },
      { expect = 0.9, against = 0.9 }, { at_least = 0.5, seed = -1 }, { at_least = 0.5, strands = 20000 } } do
      bad.purpose = "share"
      local p, message, code = hf.count_plan(bad)
      t.equal(p, nil)
      t.equal(code, "range")
      t.equal(type(message), "string")
    end
  end)
end
