# Completion of hairfibre for fish: put this file in ~/.config/fish/completions or the system's folder.
function __hairfibre_candidates
    set -l words (commandline -opc) (commandline -ct)
    set -l found (hairfibre complete $words[2..-1] 2>/dev/null)
    if test (count $found) -gt 0
        printf '%s\n' $found
    else if not string match -q '*=*' -- $words[-1]
        __fish_complete_path $words[-1]
    end
end
complete -c hairfibre -f -a '(__hairfibre_candidates)'
