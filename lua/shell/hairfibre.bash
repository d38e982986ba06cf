# Completion of hairfibre for bash: source this file, or install it as bash-completion's "hairfibre".
_hairfibre() {
    local IFS=$'\n' words=() i last
    # NAME=VALUE is one word for hairfibre; bash splits at "=".
    for ((i = 1; i <= COMP_CWORD; i++)); do
        if ((${#words[@]} > 0)) && [[ ${COMP_WORDS[i]} == "=" || ${COMP_WORDS[i - 1]} == "=" ]]; then
            words[${#words[@]} - 1]+=${COMP_WORDS[i]}
        else
            words+=("${COMP_WORDS[i]}")
        fi
    done
    last=${words[${#words[@]} - 1]}
    COMPREPLY=($(hairfibre complete "${words[@]}" 2>/dev/null))
    if [[ $last == *=* ]]; then
        COMPREPLY=("${COMPREPLY[@]#*=}")
    elif ((${#COMPREPLY[@]} == 0)); then
        COMPREPLY=($(compgen -f -- "$last"))
        compopt -o filenames
    elif [[ ${COMPREPLY[0]} == *= ]]; then
        compopt -o nospace
    fi
}
complete -F _hairfibre hairfibre
